// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/pooled_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/option_reader.h"
#include "app/cli/sheet.h"
#include "core/survival/pooling.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace milehold::cli {

using core::Result;

namespace {

struct Options {
    LivesInput input;
    std::string at;
    std::string level = "0.95";
};

struct Answer {
    double level = 0.95;
    std::vector<double> at;
    std::vector<std::string> names;
    std::vector<double> lives;
    core::Pooling pooling;

    core::PooledSurvival survival(std::size_t group, double miles) const {
        return core::pooledSurvival(pooling, group, miles, level);
    }
};

void writeJson(Session& session, const Answer& answer) {
    JsonWriter json(session.out);
    json.object([&] {
        json.field("level", answer.level);
        json.field("shape", answer.pooling.shape);
        json.field("unit_miles", answer.pooling.unit);
        json.field("rate", answer.pooling.rate);
        json.field("spread", answer.pooling.spread);
        json.field("log_marginal", answer.pooling.logMarginal);
        json.array("groups", [&] {
            for (std::size_t g = 0; g < answer.names.size(); ++g)
                json.object([&] {
                    const core::PooledPath& path = answer.pooling.paths[g];
                    json.field("group", answer.names[g]);
                    json.field("lives", answer.lives[g]);
                    json.field("comebacks", path.comebacks);
                    json.field("exposure", path.exposure);
                    json.field("weight_from_others", path.weightFromOthers);
                    json.array("at", [&] {
                        for (const double miles : answer.at)
                            json.object([&] {
                                const core::PooledSurvival point = answer.survival(g, miles);
                                json.field("miles", miles);
                                json.field("survival", point.survival);
                                json.field("lower", point.lower);
                                json.field("upper", point.upper);
                                json.field("own", point.own);
                            });
                    });
                });
        });
    });
    session.out += '\n';
}

std::vector<Sheet> sheetsOf(const Answer& answer) {
    Sheet common{"What the groups share", "common", {"shape", "unit_miles", "rate", "spread"}, {}};
    common.rows.push_back(
        {answer.pooling.shape, answer.pooling.unit, answer.pooling.rate, answer.pooling.spread});
    Sheet groups{"How much each group leans on the others",
                 "group",
                 {"group", "lives", "comebacks", "exposure", "weight_from_others"},
                 {}};
    Sheet at{"Survival, pooled and by the group alone",
             "at",
             {"group", "miles", "survival", "lower", "upper", "own"},
             {}};
    for (std::size_t g = 0; g < answer.names.size(); ++g) {
        const core::PooledPath& path = answer.pooling.paths[g];
        groups.rows.push_back(
            {answer.names[g], answer.lives[g], path.comebacks, path.exposure, path.weightFromOthers});
        for (const double miles : answer.at) {
            const core::PooledSurvival point = answer.survival(g, miles);
            at.rows.push_back(
                {answer.names[g], miles, point.survival, point.lower, point.upper, cellOf(point.own)});
        }
    }
    std::vector<Sheet> sheets = {std::move(common), std::move(groups)};
    if (!at.rows.empty())
        sheets.push_back(std::move(at));
    return sheets;
}

Result<void> run(Session& session, const Options& options) {
    OptionReader read;
    Answer answer;
    answer.at = read.mileages("--at", options.at);
    answer.level = read.share("--level", options.level);
    if (!read.result())
        return read.result();
    const auto table = readLives(session, options.input);
    if (!table)
        return core::failureOf(table);
    const auto counts = core::countsByGroup(table->lives);
    auto pooling = core::pooledRates(counts);
    if (!pooling)
        return core::failureOf(pooling);
    answer.pooling = std::move(*pooling);
    answer.names = table->lives.groupNames;
    for (const core::Counts& group : counts)
        answer.lives.push_back(group.lives());
    if (session.format == Format::Json)
        writeJson(session, answer);
    else
        appendSheets(session, sheetsOf(answer));
    return {};
}

} // namespace

Action setUpPooled(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addLivesInput(command, options->input);
    addAtOption(command, options->at, "mileages to read the pooled survival at");
    addLevelOption(command, options->level);
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
