// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/curve_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/sheet.h"
#include "core/survival/curve.h"

#include <CLI/CLI.hpp>

#include <optional>

namespace milehold::cli {

using core::ErrorCode;
using core::LimitMethod;
using core::Result;

namespace {

constexpr double kShares[] = {0.25, 0.5, 0.75};

struct Options {
    LivesInput input;
    std::string level = "0.95";
    std::string limits = "exact";
    std::string at;
    std::string tau;
    std::string given;
    std::string estimator = "auto";
};

struct Request {
    core::CurveOptions curve;
    std::vector<double> at;
    std::optional<double> tau;
    std::optional<double> given;
};

struct GroupCurve {
    std::string name;
    core::Curve curve;
    std::vector<core::CurveQuantile> quantiles;
    std::vector<core::CurvePoint> at;
    std::optional<core::RestrictedMean> restrictedMean;
    std::optional<core::ConditionalCurve> conditional;
};

struct LimitName {
    const char* name;
    LimitMethod method;
};
constexpr LimitName kLimits[] = {{"exact", LimitMethod::Exact},
                                 {"exact-mid-p", LimitMethod::ExactMidP},
                                 {"log-log", LimitMethod::LogLog},
                                 {"log", LimitMethod::Log},
                                 {"linear", LimitMethod::Linear}};

Result<LimitMethod> limitsOption(const std::string& text) {
    for (const LimitName& limit : kLimits)
        if (text == limit.name)
            return limit.method;
    return core::fail(ErrorCode::InvalidInput,
                      "--limits: '" + text +
                          "' is unknown; expected exact, exact-mid-p, log-log, log or linear");
}

Result<std::optional<double>> oneMileage(std::string_view option, const std::string& text) {
    if (text.empty())
        return std::optional<double>();
    const auto value = numberOption(option, text);
    if (!value)
        return core::failureOf(value);
    if (*value < 0)
        return core::fail(ErrorCode::InvalidInput, std::string(option) + ": '" + text +
                                                       "' is negative; expected a mileage of 0 or more");
    return std::optional<double>(*value);
}

Result<Request> requestOf(const Options& options) {
    Request request;
    const auto level = shareOption("--level", options.level);
    if (!level)
        return core::failureOf(level);
    const auto limits = limitsOption(options.limits);
    if (!limits)
        return core::failureOf(limits);
    auto at = mileagesOption("--at", options.at);
    if (!at)
        return core::failureOf(at);
    const auto tau = oneMileage("--tau", options.tau);
    if (!tau)
        return core::failureOf(tau);
    const auto given = oneMileage("--given", options.given);
    if (!given)
        return core::failureOf(given);
    if (options.estimator != "auto" && options.estimator != "kaplan-meier" && options.estimator != "turnbull")
        return core::fail(ErrorCode::InvalidInput,
                          "--estimator: '" + options.estimator +
                              "' is unknown; expected auto, kaplan-meier or turnbull");
    request.curve = {*level, *limits};
    request.at = std::move(*at);
    request.tau = *tau;
    request.given = *given;
    return request;
}

// A group that is not watched beyond `given` has no conditional curve; the question stands, its answers are
// empty.
core::ConditionalCurve conditionalOf(const core::Counts& counts, const Request& request) {
    auto conditional = core::conditionalCurve(counts, *request.given, request.at, request.curve);
    if (conditional)
        return std::move(*conditional);
    core::ConditionalCurve nothing;
    nothing.given = *request.given;
    for (const double miles : request.at)
        nothing.at.emplace_back().miles = miles;
    return nothing;
}

Result<GroupCurve> curveOf(const std::string& name, const core::Counts& counts, const Request& request) {
    auto curve = core::survivalCurve(counts, request.curve);
    if (!curve)
        return core::failureOf(curve);
    GroupCurve group;
    group.name = name;
    group.curve = std::move(*curve);
    for (const double share : kShares)
        group.quantiles.push_back(core::quantile(group.curve, share));
    for (const double miles : request.at)
        group.at.push_back(core::valueAt(group.curve, counts, miles));
    if (request.tau) {
        auto mean = core::restrictedMean(group.curve, *request.tau);
        if (!mean)
            return core::failureOf(mean);
        group.restrictedMean = *mean;
    }
    if (request.given)
        group.conditional = conditionalOf(counts, request);
    return group;
}

Result<std::vector<GroupCurve>> curvesOf(const core::Lives& lives, const Request& request) {
    const std::vector<core::Counts> counts = core::countsByGroup(lives);
    for (std::size_t g = 0; request.tau && g < counts.size(); ++g)
        if (!(*request.tau > 0 && *request.tau <= counts[g].longestWatched())) {
            std::string longest;
            JsonWriter(longest).value(counts[g].longestWatched());
            return core::fail(ErrorCode::InvalidInput, "--tau: the horizon must be above 0 and not beyond " +
                                                           longest + ", the longest watch of group " +
                                                           lives.groupNames[g]);
        }
    std::vector<GroupCurve> groups;
    groups.reserve(counts.size());
    for (std::size_t g = 0; g < counts.size(); ++g) {
        auto group = curveOf(lives.groupNames[g], counts[g], request);
        if (!group)
            return core::failureOf(group);
        groups.push_back(std::move(*group));
    }
    return groups;
}

void writeGroup(JsonWriter& json, const GroupCurve& group) {
    json.field("group", group.name);
    json.field("lives", group.curve.lives);
    json.field("comebacks", group.curve.comebacks);
    json.field("longest_watched", group.curve.longestWatched);
    json.array("steps", [&] {
        for (std::size_t i = 0; i < group.curve.size(); ++i) {
            const core::CurveStep step = group.curve.step(i);
            json.object([&] {
                json.field("miles", step.miles);
                json.field("watched", step.watched);
                json.field("comebacks", step.comebacks);
                json.field("left", step.left);
                json.field("survival", step.survival);
                json.field("se", step.se);
                json.field("lower", step.lower);
                json.field("upper", step.upper);
                json.field("cumulative_hazard", step.cumulativeHazard);
                json.field("cumulative_hazard_se", step.cumulativeHazardSe);
            });
        }
    });
    json.array("quantiles", [&] {
        for (const core::CurveQuantile& quantile : group.quantiles)
            json.object([&] {
                json.field("p", quantile.p);
                json.field("miles", quantile.miles);
                json.field("lower", quantile.lower);
                json.field("upper", quantile.upper);
            });
    });
    json.array("at", [&] {
        for (const core::CurvePoint& point : group.at)
            json.object([&] {
                json.field("miles", point.miles);
                json.field("watched", point.watched);
                json.field("survival", point.survival);
                json.field("se", point.se);
                json.field("lower", point.lower);
                json.field("upper", point.upper);
            });
    });
    if (group.restrictedMean)
        json.object("restricted_mean", [&] {
            json.field("tau", group.restrictedMean->tau);
            json.field("mean", group.restrictedMean->mean);
            json.field("se", group.restrictedMean->se);
        });
    else
        json.null("restricted_mean");
    if (group.conditional)
        json.object("conditional", [&] {
            json.field("given", group.conditional->given);
            json.array("at", [&] {
                for (const core::CurvePoint& point : group.conditional->at)
                    json.object([&] {
                        json.field("miles", point.miles);
                        json.field("survival", point.survival);
                        json.field("lower", point.lower);
                        json.field("upper", point.upper);
                    });
            });
        });
    else
        json.null("conditional");
}

void writeJson(Session& session, const std::vector<GroupCurve>& groups, const Options& options,
               double level) {
    JsonWriter json(session.out);
    json.object([&] {
        json.field("estimator", "kaplan-meier");
        json.field("level", level);
        json.field("limits", options.limits);
        json.array("groups", [&] {
            for (const GroupCurve& group : groups)
                json.object([&] { writeGroup(json, group); });
        });
    });
    session.out += '\n';
}

std::vector<Sheet> sheetsOf(const std::vector<GroupCurve>& groups) {
    std::vector<Sheet> sheets;
    for (const GroupCurve& group : groups) {
        const core::Curve& curve = group.curve;
        sheets.push_back({"Group " + group.name,
                          "group",
                          {"group", "lives", "comebacks", "longest_watched"},
                          {{group.name, curve.lives, curve.comebacks, curve.longestWatched}}});
        Sheet steps{"Steps",
                    "step",
                    {"group", "miles", "watched", "comebacks", "left", "survival", "se", "lower", "upper",
                     "cumulative_hazard", "cumulative_hazard_se"},
                    {}};
        for (std::size_t i = 0; i < curve.size(); ++i) {
            const core::CurveStep s = curve.step(i);
            steps.rows.push_back({group.name, s.miles, s.watched, s.comebacks, s.left, s.survival,
                                  cellOf(s.se), cellOf(s.lower), cellOf(s.upper), s.cumulativeHazard,
                                  s.cumulativeHazardSe});
        }
        sheets.push_back(std::move(steps));
        Sheet quantiles{"Mileage by which a share p has come back",
                        "quantile",
                        {"group", "p", "miles", "lower", "upper"},
                        {}};
        for (const core::CurveQuantile& q : group.quantiles)
            quantiles.rows.push_back({group.name, q.p, cellOf(q.miles), cellOf(q.lower), cellOf(q.upper)});
        sheets.push_back(std::move(quantiles));
        if (!group.at.empty()) {
            Sheet at{"At the mileages asked for",
                     "at",
                     {"group", "miles", "watched", "survival", "se", "lower", "upper"},
                     {}};
            for (const core::CurvePoint& p : group.at)
                at.rows.push_back({group.name, p.miles, p.watched, cellOf(p.survival), cellOf(p.se),
                                   cellOf(p.lower), cellOf(p.upper)});
            sheets.push_back(std::move(at));
        }
        if (group.restrictedMean)
            sheets.push_back({"Mean miles within the horizon",
                              "restricted_mean",
                              {"group", "tau", "mean", "se"},
                              {{group.name, group.restrictedMean->tau, group.restrictedMean->mean,
                                group.restrictedMean->se}}});
        if (group.conditional) {
            Sheet conditional{"Given that it has run so far",
                              "conditional",
                              {"group", "given", "miles", "survival", "lower", "upper"},
                              {}};
            for (const core::CurvePoint& p : group.conditional->at)
                conditional.rows.push_back({group.name, group.conditional->given, p.miles, cellOf(p.survival),
                                            cellOf(p.lower), cellOf(p.upper)});
            sheets.push_back(std::move(conditional));
        }
    }
    return sheets;
}

Result<void> run(Session& session, const Options& options) {
    const auto request = requestOf(options);
    if (!request)
        return core::failureOf(request);
    const auto table = readLives(session, options.input);
    if (!table)
        return core::failureOf(table);
    const auto groups = curvesOf(table->lives, *request);
    if (!groups)
        return core::failureOf(groups);
    if (session.format == Format::Json)
        writeJson(session, *groups, options, request->curve.level);
    else
        appendSheets(session, sheetsOf(*groups));
    return {};
}

} // namespace

Action setUpCurve(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addLivesInput(command, options->input);
    command.add_option("--level", options->level, "two-sided level of the limits")
        ->type_name("SHARE")
        ->capture_default_str();
    command.add_option("--limits", options->limits, "exact, exact-mid-p, log-log, log or linear")
        ->type_name("METHOD")
        ->capture_default_str();
    command.add_option("--at", options->at, "mileages to read the curve at")->type_name("MILES,...");
    command.add_option("--tau", options->tau, "horizon of the mean miles")->type_name("MILES");
    command.add_option("--given", options->given, "answer --at for a repair that has run so far")
        ->type_name("MILES");
    command.add_option("--estimator", options->estimator, "auto, kaplan-meier or turnbull")
        ->type_name("NAME")
        ->capture_default_str();
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
