// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/compare_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/option_reader.h"
#include "app/cli/sheet.h"
#include "core/survival/compare.h"

#include <CLI/CLI.hpp>

#include <memory>
#include <numeric>
#include <optional>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

struct Options {
    LivesInput input;
    std::string rho = "0";
    bool stratum = false;
    bool trend = false;
    std::string horizon;
    std::string level = "0.95";
};

// A group against the first one, at the horizon.
struct Against {
    std::string group;
    std::string first;
    std::optional<core::Difference> survival;
    std::optional<core::Difference> mean;
};

struct Answer {
    double rho = 0;
    std::vector<std::string> names;
    core::Comparison comparison;
    bool trendAsked = false;
    std::optional<double> permutationP;
    std::string whyNoPermutation; ///< where few comebacks ask for it
    std::optional<double> horizon;
    std::vector<Against> differences;
};

const char* wordOf(core::CompareEvidence evidence) {
    switch (evidence) {
    case core::CompareEvidence::Enough:
        return "enough";
    case core::CompareEvidence::Permutation:
        return "few";
    case core::CompareEvidence::TooLittle:
        break;
    }
    return "too-few";
}

const char* sentenceOf(core::CompareEvidence evidence) {
    switch (evidence) {
    case core::CompareEvidence::Enough:
        return "";
    case core::CompareEvidence::Permutation:
        return "fewer than 10 comebacks in all: trust the permutation p, not the chi-square";
    case core::CompareEvidence::TooLittle:
        break;
    }
    return "fewer than 5 comebacks in all, or a group of fewer than 3 lives: too few to tell the groups "
           "apart";
}

Result<std::vector<Against>> differencesAt(const core::Lives& lives, double horizon, double level) {
    const std::vector<core::Counts> counts = core::countsByGroup(lives);
    std::vector<core::CurvePoint> points;
    std::vector<std::optional<core::RestrictedMean>> means;
    for (std::size_t g = 0; g < counts.size(); ++g) {
        const auto curve = core::survivalCurve(counts[g], {level, core::LimitMethod::Exact});
        if (!curve)
            return core::failureOf(curve);
        if (horizon > curve->longestWatched)
            return core::fail(ErrorCode::InvalidInput,
                              "--horizon: beyond " + fullDigits(curve->longestWatched) +
                                  ", the longest watch of group " + lives.groupNames[g] +
                                  "; expected a mileage that every group has reached");
        points.push_back(core::valueAt(*curve, counts[g], horizon));
        const auto mean = core::restrictedMean(*curve, horizon);
        means.push_back(mean ? std::optional(*mean) : std::nullopt);
    }
    std::vector<Against> differences;
    for (std::size_t g = 1; g < counts.size(); ++g) {
        Against against{lives.groupNames[g], lives.groupNames[0], {}, {}};
        if (const auto survival = core::survivalDifference(points[g], points[0]))
            against.survival = *survival;
        if (means[g] && means[0])
            against.mean = core::meanDifference(*means[g], *means[0], level);
        differences.push_back(std::move(against));
    }
    return differences;
}

Result<Answer> answerOf(core::Lives lives, const Options& options) {
    OptionReader read;
    const double rho = read.number("--rho", options.rho);
    const double level = read.share("--level", options.level);
    const std::optional<double> horizon = read.mileage("--horizon", options.horizon);
    if (!read.result())
        return core::failureOf(read.result());
    if (!options.stratum)
        lives.stratum.clear();

    Answer answer;
    answer.rho = rho;
    answer.names = lives.groupNames;
    answer.trendAsked = options.trend;
    core::CompareOptions how{rho, {}};
    if (options.trend) {
        how.scores.resize(lives.groupNames.size());
        std::iota(how.scores.begin(), how.scores.end(), 1.0);
        if (auto numbers = core::numbersOf(lives.groupNames))
            how.scores = std::move(*numbers);
    }
    auto comparison = core::compare(core::countsByStratum(lives), how);
    if (!comparison)
        return core::failureOf(comparison);
    answer.comparison = std::move(*comparison);
    if (answer.comparison.comebacks < core::kFewComebacks) {
        if (const auto p = core::permutationP(lives, how))
            answer.permutationP = *p;
        else
            answer.whyNoPermutation = p.error().detail;
    }
    if (horizon) {
        answer.horizon = horizon;
        auto differences = differencesAt(lives, *horizon, level);
        if (!differences)
            return core::failureOf(differences);
        answer.differences = std::move(*differences);
    }
    return answer;
}

void writeDifference(JsonWriter& json, const char* key, const std::optional<core::Difference>& difference) {
    if (!difference) {
        json.null(key);
        return;
    }
    json.object(key, [&] {
        json.field("difference", difference->value);
        json.field("lower", difference->lower);
        json.field("upper", difference->upper);
    });
}

void writeJson(Session& session, const Answer& answer) {
    const core::Comparison& comparison = answer.comparison;
    JsonWriter json(session.out);
    json.object([&] {
        json.field("rho", answer.rho);
        json.field("chi_square", comparison.chiSquare);
        json.field("df", comparison.df);
        json.field("p", comparison.p);
        json.array("groups", [&] {
            for (std::size_t g = 0; g < answer.names.size(); ++g)
                json.object([&] {
                    json.field("group", answer.names[g]);
                    json.field("lives", comparison.groups[g].lives);
                    json.field("observed", comparison.groups[g].observed);
                    json.field("expected", comparison.groups[g].expected);
                });
        });
        if (answer.trendAsked)
            json.object("trend", [&] {
                json.field("chi_square",
                           comparison.trend ? std::optional(comparison.trend->value) : std::nullopt);
                json.field("p", comparison.trend ? std::optional(comparison.trend->p) : std::nullopt);
            });
        else
            json.null("trend");
        json.field("evidence", wordOf(comparison.evidence));
        json.field("permutation_p", answer.permutationP);
        if (!answer.whyNoPermutation.empty())
            json.field("no_permutation", answer.whyNoPermutation);
        json.field("horizon", answer.horizon);
        json.array("differences", [&] {
            for (const Against& against : answer.differences)
                json.object([&] {
                    json.field("group", against.group);
                    json.field("minus", against.first);
                    writeDifference(json, "survival", against.survival);
                    writeDifference(json, "restricted_mean", against.mean);
                });
        });
    });
    session.out += '\n';
}

std::vector<Sheet> sheetsOf(const Answer& answer) {
    const core::Comparison& comparison = answer.comparison;
    std::vector<Sheet> sheets;
    Sheet groups{"Groups", "group", {"group", "lives", "observed", "expected"}, {}};
    for (std::size_t g = 0; g < answer.names.size(); ++g)
        groups.rows.push_back({answer.names[g], comparison.groups[g].lives, comparison.groups[g].observed,
                               comparison.groups[g].expected});
    sheets.push_back(std::move(groups));
    Sheet tests{"Do the groups share one hazard?", "test", {"test", "chi_square", "df", "p"}, {}};
    tests.rows.push_back({std::string("rho ") + fullDigits(answer.rho), cellOf(comparison.chiSquare),
                          comparison.df, cellOf(comparison.p)});
    if (comparison.trend)
        tests.rows.push_back(
            {std::string("trend"), comparison.trend->value, comparison.trend->df, comparison.trend->p});
    if (answer.permutationP)
        tests.rows.push_back({std::string("permutation"), {}, {}, *answer.permutationP});
    sheets.push_back(std::move(tests));
    if (comparison.evidence != core::CompareEvidence::Enough)
        sheets.push_back(
            {"How far to trust it", "note", {"note"}, {{std::string(sentenceOf(comparison.evidence))}}});
    if (!answer.whyNoPermutation.empty())
        sheets.push_back(
            {"No permutation p", "reason", {"reason"}, {{"no permutation p: " + answer.whyNoPermutation}}});
    if (!answer.differences.empty()) {
        Sheet differences{"Differences at " + fullDigits(*answer.horizon),
                          "difference",
                          {"group", "minus", "of", "difference", "lower", "upper"},
                          {}};
        for (const Against& against : answer.differences) {
            const auto add = [&](const char* what, const std::optional<core::Difference>& d) {
                if (d)
                    differences.rows.push_back(
                        {against.group, against.first, std::string(what), d->value, d->lower, d->upper});
            };
            add("survival", against.survival);
            add("restricted_mean", against.mean);
        }
        sheets.push_back(std::move(differences));
    }
    return sheets;
}

Result<void> run(Session& session, const Options& options) {
    storage::LivesTableOptions how;
    how.needStratum = options.stratum;
    auto table = readLives(session, options.input, how);
    if (!table)
        return core::failureOf(table);
    const auto answer = answerOf(std::move(table->lives), options);
    if (!answer)
        return core::failureOf(answer);
    if (session.format == Format::Json)
        writeJson(session, *answer);
    else
        appendSheets(session, sheetsOf(*answer));
    return {};
}

} // namespace

Action setUpCompare(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addLivesInput(command, options->input);
    addStrataInput(command, options->input);
    command.add_option("--rho", options->rho, "weight of a mileage: S just before, to this power")
        ->type_name("NUMBER")
        ->capture_default_str();
    command.add_flag("--stratum", options->stratum, "compare within the strata of the column stratum");
    command.add_flag("--trend", options->trend, "test for a trend along the groups");
    command
        .add_option("--horizon", options->horizon,
                    "mileage at which to state differences from the first group")
        ->type_name("MILES");
    command.add_option("--level", options->level, "two-sided level of their limits")
        ->type_name("SHARE")
        ->capture_default_str();
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
