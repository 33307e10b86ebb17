// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/calls.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <unordered_map>

namespace milehold::core {

namespace {

constexpr double kDaysAMonth = 365.25 / 12;

Result<void> check(const CallOptions& options) {
    if (!(options.level > 0 && options.level < 1))
        return fail(ErrorCode::InvalidInput, "the level of the limits is not between 0 and 1");
    if (options.horizon <= Distance())
        return fail(ErrorCode::InvalidInput, "the horizon is not positive");
    if (!(options.minutesACall > 0))
        return fail(ErrorCode::InvalidInput, "the minutes of a call are not positive");
    if (!(options.warrantyWorth >= 0))
        return fail(ErrorCode::InvalidInput, "the worth of a warranty case is negative");
    if (!options.today.ok())
        return fail(ErrorCode::InvalidInput, "today is not a date");
    return {};
}

bool mayBeCalled(const Life& life) {
    const bool open = life.state == LifeState::Holding ||
                      (life.state == LifeState::LostSight && life.lostReason == LostReason::NoContact);
    return open && life.unseen > Distance();
}

/// The last day of an open warranty by time; today's warranty by distance alone has none.
struct Warranty {
    bool open = false;
    std::optional<Date> ends;
};

Warranty warrantyOf(const Life& life, const CallFacts& facts, Date today) {
    Warranty warranty;
    if (!facts.warrantyMonths && !facts.warrantyDistance)
        return warranty;
    if (facts.warrantyMonths)
        warranty.ends = addMonths(life.repairedOn, *facts.warrantyMonths);
    warranty.open = (!warranty.ends || today <= *warranty.ends) &&
                    (!facts.warrantyDistance || life.known + life.unseen <= *facts.warrantyDistance);
    return warranty;
}

std::string grouped(std::int64_t count) {
    std::string text = std::to_string(count);
    for (std::size_t at = text.size(); at > 3;)
        text.insert(at -= 3, 1, ',');
    return text;
}

std::string distanceText(Distance distance, DistanceUnit unit) {
    const double count = distance.in(unit);
    const std::int64_t rounded = count < 1000 ? std::llround(count) : std::llround(count / 1000) * 1000;
    return grouped(rounded) + (unit == DistanceUnit::Kilometres ? " km" : " mi");
}

std::string reasonOf(const Life& life, const RankedCall& call, const std::string& path,
                     const CallOptions& options) {
    const auto months = std::max(
        1L, std::lround(static_cast<double>(daysBetween(life.lastKnownOn, options.today)) / kDaysAMonth));
    std::string reason = "Not heard of for about " + std::to_string(months) +
                         (months == 1 ? " month, " : " months, ") + distanceText(life.unseen, options.unit) +
                         " unseen";
    const double points = call.shrink * 100;
    const std::string ofPath = path.empty() ? "" : " of \"" + path + "\"";
    if (points >= 0.05) {
        char text[16];
        std::snprintf(text, sizeof text, "%.1f", points);
        reason += "; the answer narrows the limits" + ofPath + " at " +
                  distanceText(options.horizon, options.unit) + " by " + text + " points on average";
    } else {
        reason += "; the answer hardly moves the limits" + ofPath + " at " +
                  distanceText(options.horizon, options.unit);
    }
    if (call.warrantyOpen)
        reason +=
            call.warrantyEnds ? "; under warranty until " + toIso(*call.warrantyEnds) : "; under warranty";
    return reason + ".";
}

} // namespace

Result<std::vector<RankedCall>> rankCalls(std::span<const LifeRecord> lives, std::span<const CallFacts> facts,
                                          const FacetNames& names, const CallOptions& options) {
    if (auto valid = check(options); !valid)
        return failureOf(valid);
    std::unordered_map<JobId, const CallFacts*> factsOf;
    for (const auto& fact : facts)
        factsOf.emplace(fact.job, &fact);

    using Group = std::tuple<std::optional<RepairPathId>, std::optional<EngineFamilyId>>;
    std::map<Group, std::vector<Life>> groups;
    for (const auto& record : lives)
        groups[{record.life.path, record.family}].push_back(record.life);

    std::vector<std::pair<RankedCall, Distance>> ranked;
    const double horizon = options.horizon.in(options.unit);
    for (const auto& [group, members] : groups) {
        CallValuer valuer(countsOfAll(toColumns(members, options.unit).lives), horizon, options.level);
        const auto& pathId = std::get<0>(group);
        const RepairPath* path = pathId ? names.shelf.find(*pathId) : nullptr;
        for (const Life& life : members) {
            const auto found = factsOf.find(life.job);
            if (found == factsOf.end() || !mayBeCalled(life))
                continue;
            // A life that adds nothing yet is watched from its entry on once somebody has answered.
            const Distance from = std::max(life.known, life.entry);
            const Distance to = std::max(life.known + life.unseen, from);
            RankedCall call;
            call.job = life.job;
            call.vehicle = life.vehicle;
            call.shrink = valuer.valueOf(from.in(options.unit), to.in(options.unit)).shrink();
            call.chanceNoisy = 1 - valuer.chanceQuiet(from.in(options.unit), to.in(options.unit));
            const Warranty warranty = warrantyOf(life, *found->second, options.today);
            call.warrantyOpen = warranty.open;
            call.warrantyEnds = warranty.ends;
            call.minutes = options.minutesACall * (found->second->unanswered + 2);
            const double worth = call.shrink + (warranty.open ? options.warrantyWorth * call.chanceNoisy : 0);
            call.worthAMinute = worth / call.minutes;
            call.reason = reasonOf(life, call, path == nullptr ? "" : path->name, options);
            ranked.emplace_back(std::move(call), life.unseen);
        }
    }
    std::sort(ranked.begin(), ranked.end(), [](const auto& a, const auto& b) {
        return std::tuple(-a.first.worthAMinute, -a.second.metres(), a.first.job) <
               std::tuple(-b.first.worthAMinute, -b.second.metres(), b.first.job);
    });
    std::vector<RankedCall> calls;
    calls.reserve(ranked.size());
    for (auto& entry : ranked)
        calls.push_back(std::move(entry.first));
    return calls;
}

} // namespace milehold::core
