// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/curve_answer.h"

#include "app/cli/json_writer.h"
#include "app/cli/sheet.h"

#include <algorithm>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

struct GroupCurve {
    std::string name;
    core::Curve curve;
    std::vector<core::CurveQuantile> quantiles;
    std::vector<core::CurvePoint> at;
    std::optional<core::RestrictedMean> restrictedMean;
    std::optional<core::ConditionalCurve> conditional;
};

// A group that is not watched beyond `given` has no conditional curve; the question stands, its answers are
// empty.
core::ConditionalCurve conditionalOf(const core::Counts& counts, const CurveRequest& request) {
    auto conditional = core::conditionalCurve(counts, *request.given, request.at, request.curve);
    if (conditional)
        return std::move(*conditional);
    core::ConditionalCurve nothing;
    nothing.given = *request.given;
    for (const double miles : request.at)
        nothing.at.emplace_back().miles = miles;
    return nothing;
}

Result<GroupCurve> curveOf(const std::string& name, const core::Counts& counts, const CurveRequest& request) {
    auto curve = core::survivalCurve(counts, request.curve);
    if (!curve)
        return core::failureOf(curve);
    GroupCurve group;
    group.name = name;
    group.curve = std::move(*curve);
    for (const double share : kCurveShares)
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

Result<std::vector<GroupCurve>> curvesOf(const core::Lives& lives, const CurveRequest& request) {
    const std::vector<core::Counts> counts = core::countsByGroup(lives);
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

void writeJson(Session& session, const std::vector<GroupCurve>& groups, const CurveRequest& request) {
    JsonWriter json(session.out);
    json.object([&] {
        json.field("estimator", "kaplan-meier");
        json.field("level", request.curve.level);
        json.field("limits", request.limits);
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

} // namespace

Result<void> checkHorizon(const core::Lives& lives, const CurveRequest& request) {
    if (!request.tau)
        return {};
    std::vector<double> longest(lives.groupNames.size(), 0);
    for (std::size_t i = 0; i < lives.size(); ++i)
        longest[lives.groupOf(i)] = std::max(longest[lives.groupOf(i)], lives.miles[i]);
    for (std::size_t g = 0; g < longest.size(); ++g) {
        if (*request.tau > 0 && *request.tau <= longest[g])
            continue;
        return core::fail(ErrorCode::InvalidInput, "--tau: the horizon must be above 0 and not beyond " +
                                                       fullDigits(longest[g]) +
                                                       ", the longest watch of group " + lives.groupNames[g]);
    }
    return {};
}

Result<void> answerByProductLimit(Session& session, const core::Lives& lives, const CurveRequest& request) {
    if (auto horizon = checkHorizon(lives, request); !horizon)
        return horizon;
    const auto groups = curvesOf(lives, request);
    if (!groups)
        return core::failureOf(groups);
    if (session.format == Format::Json)
        writeJson(session, *groups, request);
    else
        appendSheets(session, sheetsOf(*groups));
    return {};
}

} // namespace milehold::cli
