// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/calls.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <tuple>
#include <unordered_map>

namespace milehold::core {

namespace {

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

/// A call with what its reason is worded from.
struct Candidate {
    RankedCall call;
    Distance unseen;
    std::string path;
    double watched = 0; ///< at the horizon, on its path and engine family
};

/// Watched just before the horizon in the known reading.
double watchedAt(std::span<const Life> members, double horizon, DistanceUnit unit) {
    double watched = 0;
    for (const Life& life : members)
        if (life.contributes && life.entry.in(unit) < horizon && life.known.in(unit) >= horizon)
            ++watched;
    return watched;
}

std::string reasonOf(const Candidate& candidate, double fewest, const CallOptions& options) {
    const RankedCall& call = candidate.call;
    const std::string name = candidate.path.empty() ? "" : "\"" + candidate.path + "\"";
    const std::string watched = std::to_string(std::llround(candidate.watched)) + " at " +
                                distanceText(options.horizon, options.unit);
    std::string reason = distanceText(candidate.unseen, options.unit) + " unseen on ";
    if (candidate.watched <= fewest)
        reason += (name.empty() ? "" : name + ", ") + "the path with the fewest watched (" + watched + ")";
    else
        reason += (name.empty() ? "a path" : name) + " with " + watched + " watched";
    const double points = call.shrink * 100;
    if (points >= 0.05) {
        char text[16];
        std::snprintf(text, sizeof text, "%.1f", points);
        reason += std::string("; an answer narrows its limits by ") + text + " points on average";
    } else {
        reason += "; an answer hardly moves its limits";
    }
    if (call.warrantyOpen)
        reason +=
            call.warrantyEnds ? "; under warranty until " + toIso(*call.warrantyEnds) : "; under warranty";
    return reason + ".";
}

/// The fewest watched of all calls; below 0 where all paths are alike.
double fewestWatched(std::span<const Candidate> candidates) {
    const auto fewer = [](const Candidate& a, const Candidate& b) { return a.watched < b.watched; };
    const auto [least, most] = std::minmax_element(candidates.begin(), candidates.end(), fewer);
    return least == candidates.end() || least->watched == most->watched ? -1 : least->watched;
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

    std::vector<Candidate> ranked;
    const double horizon = options.horizon.in(options.unit);
    for (const auto& [group, members] : groups) {
        CallValuer valuer(countsOfAll(toColumns(members, options.unit).lives), horizon, options.level);
        const auto& pathId = std::get<0>(group);
        const RepairPath* path = pathId ? names.shelf.find(*pathId) : nullptr;
        const double watched = watchedAt(members, horizon, options.unit);
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
            call.promisedOn = found->second->promisedOn;
            call.minutes = options.minutesACall * (found->second->unanswered + 2);
            const double worth = call.shrink + (warranty.open ? options.warrantyWorth * call.chanceNoisy : 0);
            call.worthAMinute = worth / call.minutes;
            ranked.push_back({std::move(call), life.unseen, path == nullptr ? "" : path->name, watched});
        }
    }
    std::sort(ranked.begin(), ranked.end(), [](const Candidate& a, const Candidate& b) {
        return std::tuple(-a.call.worthAMinute, -a.unseen.metres(), a.call.job) <
               std::tuple(-b.call.worthAMinute, -b.unseen.metres(), b.call.job);
    });
    const double fewest = fewestWatched(ranked);
    std::vector<RankedCall> calls;
    calls.reserve(ranked.size());
    for (auto& candidate : ranked) {
        candidate.call.reason = reasonOf(candidate, fewest, options);
        calls.push_back(std::move(candidate.call));
    }
    return calls;
}

} // namespace milehold::core
