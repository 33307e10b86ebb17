// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/life.h"
#include "core/life/life_mark.h"
#include "core/shop/labels.h"

#include <algorithm>
#include <unordered_map>

namespace milehold::core {

namespace {

constexpr Distance kOneMetre = Distance::fromMetres(1);

LifePoint openPoint(const LifeMark& life, Reading reading) {
    switch (reading) {
    case Reading::Best:
        return {life.known + life.unseen, life.known + life.unseen, false};
    case Reading::Known:
        break;
    case Reading::Worst:
        if (!life.contributes)
            return {Distance(), Distance(), true}; // not even known quiet at its delivery
        if (life.mayHaveFailed)
            return {life.known + kOneMetre, life.known + kOneMetre, true};
        break;
    }
    return {life.known, life.known, false};
}

LifePoint comebackPoint(const LifeMark& life, Reading reading, Intervals intervals) {
    if (life.until == life.known)
        return {life.known, life.known, true};
    if (reading == Reading::Worst && intervals != Intervals::AtSeen) {
        const Distance begin = std::min(life.known + kOneMetre, life.until);
        return {begin, begin, true};
    }
    if (intervals != Intervals::Keep)
        return {life.until, life.until, true};
    // Watching starts after the entry, so an interval that begins there begins one metre on.
    const bool atEntry = life.entry > Distance() && life.known == life.entry;
    const Distance from = atEntry ? std::min(life.known + kOneMetre, life.until) : life.known;
    return {from, life.until, true};
}

/// Code of a competing end, in the order in which the ends turn up.
EndCode endCode(Lives& lives, OtherEnd end) {
    const auto name = toCode(end);
    const auto found = std::find(lives.endNames.begin(), lives.endNames.end(), name);
    const auto code = static_cast<EndCode>(found - lives.endNames.begin());
    if (found == lives.endNames.end())
        lives.endNames.emplace_back(name);
    return code;
}

} // namespace

LifeMark markOf(const Life& life) {
    return {life.entry,      life.known,        life.until.value_or(life.known),
            life.unseen,     life.unchecked(),  life.state,
            life.otherEnd,   life.lostReason,   life.contributes,
            life.cameBack(), life.isFollowed(), life.mayHaveFailed()};
}

std::vector<LifeMark> marksOf(std::span<const Life> lives) {
    std::vector<LifeMark> marks;
    marks.reserve(lives.size());
    for (const Life& life : lives)
        marks.push_back(markOf(life));
    return marks;
}

bool isCounted(const LifeMark& life, Reading reading) {
    // Nothing but unseen distance: no part of a curve of what is known, but of what may be.
    return life.contributes || (reading != Reading::Known && life.entry == Distance() && life.mayHaveFailed);
}

LifePoint pointOf(const LifeMark& life, Reading reading, Intervals intervals) {
    return life.cameBack ? comebackPoint(life, reading, intervals) : openPoint(life, reading);
}

LifeColumns toColumns(std::span<const Life> lives, DistanceUnit unit, Reading reading, Intervals intervals) {
    LifeColumns columns;
    Lives& table = columns.lives;
    std::unordered_map<VehicleId, std::uint32_t> vehicles;
    bool isEntered = false;
    bool isInterval = false;
    for (std::size_t i = 0; i < lives.size(); ++i) {
        const Life& life = lives[i];
        const LifeMark mark = markOf(life);
        if (!isCounted(mark, reading))
            continue;
        const LifePoint point = pointOf(mark, reading, intervals);
        EndCode end = point.cameBack ? kCameBack : kHolding;
        if (life.state == LifeState::EndedOtherwise && !point.cameBack)
            end = endCode(table, life.otherEnd);
        isEntered = isEntered || life.entry > Distance();
        isInterval = isInterval || point.until > point.at;
        table.miles.push_back(point.at.in(unit));
        table.end.push_back(end);
        table.entry.push_back(life.entry.in(unit));
        table.until.push_back(point.until.in(unit));
        const auto [vehicle, isNew] =
            vehicles.emplace(life.vehicle, static_cast<std::uint32_t>(vehicles.size()));
        if (isNew)
            table.vehicleNames.push_back(toString(life.vehicle.uuid));
        table.vehicle.push_back(vehicle->second);
        columns.rows.push_back(i);
    }
    if (!isEntered)
        table.entry.clear();
    if (!isInterval)
        table.until.clear();
    return columns;
}

} // namespace milehold::core
