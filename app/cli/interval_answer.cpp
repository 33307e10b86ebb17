// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/curve_answer.h"
#include "app/cli/json_writer.h"
#include "app/cli/sheet.h"
#include "core/survival/turnbull.h"

#include <algorithm>
#include <cmath>
#include <ostream>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

constexpr double kSeenMass = 1e-7; // a smaller mass is none
constexpr int kReplicates = 200;
constexpr std::uint64_t kSeed = 1;

struct Share {
    double p = 0.5;
    std::optional<core::MassInterval> interval;
    std::optional<double> miles() const {
        return interval && interval->isExact() ? std::optional(interval->from) : std::nullopt;
    }
};

struct GroupIntervals {
    std::string name;
    core::Turnbull estimate;
    std::vector<Share> shares;
    std::vector<core::CurvePoint> at;
};

double watchedAt(const std::vector<core::Observation>& rows, double miles) {
    double watched = 0;
    for (const core::Observation& row : rows)
        if (row.lower >= miles)
            watched += row.weight;
    return watched;
}

Result<std::vector<core::CurvePoint>> pointsOf(const core::Turnbull& estimate,
                                               const std::vector<core::Observation>& rows,
                                               const CurveRequest& request) {
    std::vector<core::CurvePoint> points;
    std::vector<double> within;
    for (const double miles : request.at) {
        core::CurvePoint& point = points.emplace_back();
        point.miles = miles;
        point.watched = watchedAt(rows, miles);
        if (miles > estimate.longestWatched)
            continue;
        within.push_back(miles);
        const core::SurvivalBounds bounds = core::boundsAt(estimate, miles);
        if (bounds.most - bounds.least < kSeenMass)
            point.survival = bounds.least;
    }
    if (within.empty())
        return points;
    const auto limits = core::bootstrapLimits(rows, within, request.curve.level, kReplicates, kSeed);
    if (!limits)
        return core::failureOf(limits);
    auto next = limits->begin();
    for (core::CurvePoint& point : points) {
        if (point.miles > estimate.longestWatched)
            continue;
        point.lower = next->lower;
        point.upper = next->upper;
        ++next;
    }
    return points;
}

Result<GroupIntervals> intervalsOf(const std::string& name, const std::vector<core::Observation>& rows,
                                   const CurveRequest& request) {
    auto estimate = core::turnbull(rows);
    if (!estimate)
        return core::fail(estimate.error().code, "group " + name + ": " + estimate.error().detail);
    GroupIntervals group;
    group.name = name;
    group.estimate = std::move(*estimate);
    for (const double share : kCurveShares)
        group.shares.push_back({share, core::quantileInterval(group.estimate, share)});
    auto points = pointsOf(group.estimate, rows, request);
    if (!points)
        return core::failureOf(points);
    group.at = std::move(*points);
    return group;
}

std::optional<double> bounded(double to) {
    return std::isfinite(to) ? std::optional(to) : std::nullopt;
}

void writeGroup(JsonWriter& json, const GroupIntervals& group) {
    json.field("group", group.name);
    json.field("lives", group.estimate.lives);
    json.field("comebacks", group.estimate.comebacks);
    json.field("longest_watched", group.estimate.longestWatched);
    json.array("intervals", [&] {
        for (const core::MassInterval& interval : group.estimate.intervals) {
            if (interval.mass <= kSeenMass)
                continue;
            json.object([&] {
                json.field("from", interval.from);
                json.field("to", bounded(interval.to));
                json.field("mass", interval.mass);
            });
        }
    });
    json.array("quantiles", [&] {
        for (const Share& share : group.shares)
            json.object([&] {
                json.field("p", share.p);
                json.field("miles", share.miles());
                json.null("lower");
                json.null("upper");
                json.field("from", share.interval ? std::optional(share.interval->from) : std::nullopt);
                json.field("to", share.interval ? bounded(share.interval->to) : std::nullopt);
            });
    });
    json.array("at", [&] {
        for (const core::CurvePoint& point : group.at)
            json.object([&] {
                json.field("miles", point.miles);
                json.field("watched", point.watched);
                json.field("survival", point.survival);
                json.null("se");
                json.field("lower", point.lower);
                json.field("upper", point.upper);
            });
    });
    json.null("restricted_mean");
    json.null("conditional");
}

std::vector<Sheet> sheetsOf(const std::vector<GroupIntervals>& groups) {
    std::vector<Sheet> sheets;
    for (const GroupIntervals& group : groups) {
        const core::Turnbull& estimate = group.estimate;
        sheets.push_back({"Group " + group.name,
                          "group",
                          {"group", "lives", "comebacks", "longest_watched"},
                          {{group.name, estimate.lives, estimate.comebacks, estimate.longestWatched}}});
        Sheet intervals{"Where comebacks lie, (from, to]", "interval", {"group", "from", "to", "mass"}, {}};
        for (const core::MassInterval& interval : estimate.intervals)
            if (interval.mass > kSeenMass)
                intervals.rows.push_back(
                    {group.name, interval.from, cellOf(bounded(interval.to)), interval.mass});
        sheets.push_back(std::move(intervals));
        Sheet shares{"Mileage by which a share p has come back, in (from, to]",
                     "quantile",
                     {"group", "p", "miles", "from", "to"},
                     {}};
        for (const Share& share : group.shares)
            shares.rows.push_back({group.name, share.p, cellOf(share.miles()),
                                   share.interval ? Cell(share.interval->from) : Cell(),
                                   share.interval ? cellOf(bounded(share.interval->to)) : Cell()});
        sheets.push_back(std::move(shares));
        if (group.at.empty())
            continue;
        Sheet at{"At the mileages asked for",
                 "at",
                 {"group", "miles", "watched", "survival", "lower", "upper"},
                 {}};
        for (const core::CurvePoint& p : group.at)
            at.rows.push_back(
                {group.name, p.miles, p.watched, cellOf(p.survival), cellOf(p.lower), cellOf(p.upper)});
        sheets.push_back(std::move(at));
    }
    return sheets;
}

void writeJson(Session& session, const std::vector<GroupIntervals>& groups, const CurveRequest& request) {
    JsonWriter json(session.out);
    json.object([&] {
        json.field("estimator", "turnbull");
        json.field("level", request.curve.level);
        json.field("limits", "bootstrap");
        json.array("groups", [&] {
            for (const GroupIntervals& group : groups)
                json.object([&] { writeGroup(json, group); });
        });
    });
    session.out += '\n';
}

} // namespace

Result<void> answerByIntervals(Session& session, const core::Lives& lives, const CurveRequest& request) {
    if (auto horizon = checkHorizon(lives, request); !horizon)
        return horizon;
    if (std::any_of(lives.entry.begin(), lives.entry.end(), [](double entry) { return entry > 0; }))
        return core::fail(ErrorCode::Unsupported,
                          "column entry: the estimate from intervals need not exist with delayed "
                          "entries; expected a table without them, or --estimator kaplan-meier");
    if (request.tau || request.given)
        session.err << "milehold-cli: note: --tau and --given have no answer from intervals: where inside an "
                       "interval a "
                       "comeback lies is not known\n";
    const auto rows = core::observationsByGroup(lives);
    std::vector<GroupIntervals> groups;
    for (std::size_t g = 0; g < rows.size(); ++g) {
        auto group = intervalsOf(lives.groupNames[g], rows[g], request);
        if (!group)
            return core::failureOf(group);
        groups.push_back(std::move(*group));
    }
    if (session.format == Format::Json)
        writeJson(session, groups, request);
    else
        appendSheets(session, sheetsOf(groups));
    return {};
}

} // namespace milehold::cli
