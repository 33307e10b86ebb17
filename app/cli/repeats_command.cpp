// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/repeats_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/option_reader.h"
#include "app/cli/sheet.h"
#include "core/survival/histories.h"

#include <CLI/CLI.hpp>

#include <memory>
#include <optional>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

struct Options {
    LivesInput input;
    std::string level = "0.95";
    std::string cost;
    std::string horizon;
};

struct Against {
    std::string group;
    std::string first;
    core::MeanGap gap;
};

struct Answer {
    double level = 0.95;
    std::vector<std::string> names;
    std::vector<core::MeanCurve> curves;
    std::optional<double> horizon;
    std::vector<Against> differences;
};

// What each row cost, by the column named; only the rows that came back count.
Result<std::vector<double>> costsOf(const storage::LivesTable& table, const Options& options) {
    if (options.cost.empty())
        return std::vector<double>();
    const storage::FactorColumn& column = table.factors.front();
    const auto levels = column.numbers();
    if (!levels)
        return core::fail(ErrorCode::InvalidInput,
                          "--cost: column " + column.name +
                              " holds something else than numbers; expected numbers");
    std::vector<double> costs(column.level.size());
    for (std::size_t i = 0; i < costs.size(); ++i) {
        costs[i] = (*levels)[column.level[i]];
        if (table.lives.cameBack(i) && costs[i] < 0)
            return core::fail(ErrorCode::InvalidInput, "--cost: column " + column.name +
                                                           " holds a negative number; expected 0 or more");
    }
    return costs;
}

Result<Answer> answerOf(const storage::LivesTable& table, const Options& options) {
    OptionReader read;
    Answer answer;
    answer.level = read.share("--level", options.level);
    answer.horizon = read.mileage("--horizon", options.horizon);
    if (!read.result())
        return core::failureOf(read.result());
    const auto costs = costsOf(table, options);
    if (!costs)
        return core::failureOf(costs);

    answer.names = table.lives.groupNames;
    for (const core::Histories& histories : core::historiesByGroup(table.lives, *costs)) {
        auto curve = core::meanCurve(histories, answer.level);
        if (!curve)
            return core::failureOf(curve);
        answer.curves.push_back(std::move(*curve));
    }
    if (!answer.horizon)
        return answer;
    for (std::size_t g = 0; g < answer.curves.size(); ++g) {
        if (*answer.horizon > answer.curves[g].longestWatched)
            return core::fail(ErrorCode::InvalidInput,
                              "--horizon: beyond " + fullDigits(answer.curves[g].longestWatched) +
                                  ", the longest watch of group " + answer.names[g] +
                                  "; expected a mileage that every group has reached");
        if (g == 0)
            continue;
        const auto gap = core::meanGap(answer.curves[g], answer.curves[0], *answer.horizon);
        if (!gap)
            return core::failureOf(gap);
        answer.differences.push_back({answer.names[g], answer.names[0], *gap});
    }
    return answer;
}

void writeJson(Session& session, const Answer& answer) {
    JsonWriter json(session.out);
    json.object([&] {
        json.field("level", answer.level);
        json.array("groups", [&] {
            for (std::size_t g = 0; g < answer.curves.size(); ++g)
                json.object([&] {
                    const core::MeanCurve& curve = answer.curves[g];
                    json.field("group", answer.names[g]);
                    json.field("vehicles", static_cast<double>(curve.vehicles));
                    json.array("steps", [&] {
                        for (std::size_t i = 0; i < curve.miles.size(); ++i)
                            json.object([&] {
                                json.field("miles", curve.miles[i]);
                                json.field("watched", curve.watched[i]);
                                json.field("mean", curve.mean[i]);
                                json.field("se", curve.se[i]);
                                json.field("lower", curve.lower[i]);
                                json.field("upper", curve.upper[i]);
                            });
                    });
                });
        });
        json.field("horizon", answer.horizon);
        json.array("differences", [&] {
            for (const Against& against : answer.differences)
                json.object([&] {
                    json.field("group", against.group);
                    json.field("minus", against.first);
                    json.field("difference", against.gap.value);
                    json.field("se", against.gap.se);
                    json.field("lower", against.gap.lower);
                    json.field("upper", against.gap.upper);
                });
        });
    });
    session.out += '\n';
}

std::vector<Sheet> sheetsOf(const Answer& answer) {
    std::vector<Sheet> sheets;
    for (std::size_t g = 0; g < answer.curves.size(); ++g) {
        const core::MeanCurve& curve = answer.curves[g];
        Sheet steps{"Group " + answer.names[g] + ": " + std::to_string(curve.vehicles) + " vehicles",
                    "step",
                    {"group", "miles", "watched", "mean", "se", "lower", "upper"},
                    {}};
        for (std::size_t i = 0; i < curve.miles.size(); ++i)
            steps.rows.push_back({answer.names[g], curve.miles[i], curve.watched[i], curve.mean[i],
                                  curve.se[i], curve.lower[i], curve.upper[i]});
        sheets.push_back(std::move(steps));
    }
    if (answer.differences.empty())
        return sheets;
    Sheet differences{"Differences at " + fullDigits(*answer.horizon),
                      "difference",
                      {"group", "minus", "difference", "se", "lower", "upper"},
                      {}};
    for (const Against& against : answer.differences)
        differences.rows.push_back({against.group, against.first, against.gap.value, against.gap.se,
                                    against.gap.lower, against.gap.upper});
    sheets.push_back(std::move(differences));
    return sheets;
}

Result<void> run(Session& session, const Options& options) {
    storage::LivesTableOptions how;
    how.needVehicle = true;
    how.histories = true;
    if (!options.cost.empty())
        how.factors = {options.cost};
    const auto table = readLives(session, options.input, how);
    if (!table)
        return core::failureOf(table);
    const auto answer = answerOf(*table, options);
    if (!answer)
        return core::failureOf(answer);
    if (session.format == Format::Json)
        writeJson(session, *answer);
    else
        appendSheets(session, sheetsOf(*answer));
    return {};
}

} // namespace

Action setUpRepeats(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addLivesInput(command, options->input);
    addLevelOption(command, options->level);
    command
        .add_option("--cost", options->cost,
                    "column with what each comeback cost: mean cost instead of mean number")
        ->type_name("COLUMN");
    command
        .add_option("--horizon", options->horizon,
                    "mileage at which to state differences from the first group")
        ->type_name("MILES");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
