// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/life.h"
#include "core/shop/labels.h"

#include <algorithm>
#include <unordered_map>

namespace milehold::core {

namespace {

constexpr Distance kOneMetre = Distance::fromMetres(1);

/// A life as one reading sees it.
struct Row {
    Distance miles;
    Distance until; ///< same as `miles` where it is exact
    EndCode end = kHolding;
};

Row openRow(const Life& life, Reading reading) {
    switch (reading) {
    case Reading::Best:
        return {life.known + life.unseen, life.known + life.unseen, kHolding};
    case Reading::Known:
        break;
    case Reading::Worst:
        if (!life.contributes)
            return {Distance(), Distance(), kCameBack}; // not even known quiet at its delivery
        if (life.mayHaveFailed())
            return {life.known + kOneMetre, life.known + kOneMetre, kCameBack};
        break;
    }
    return {life.known, life.known, kHolding};
}

Row comebackRow(const Life& life, Reading reading, Intervals intervals) {
    if (!life.until)
        return {life.known, life.known, kCameBack};
    if (reading == Reading::Worst && intervals != Intervals::AtSeen) {
        const Distance begin = std::min(life.known + kOneMetre, *life.until);
        return {begin, begin, kCameBack};
    }
    if (intervals != Intervals::Keep)
        return {*life.until, *life.until, kCameBack};
    // Watching starts after the entry, so an interval that begins there begins one metre on.
    const bool atEntry = life.entry > Distance() && life.known == life.entry;
    const Distance from = atEntry ? std::min(life.known + kOneMetre, *life.until) : life.known;
    return {from, *life.until, kCameBack};
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

bool isCounted(const Life& life, Reading reading) {
    // Nothing but unseen distance: no part of a curve of what is known, but of what may be.
    return life.contributes ||
           (reading != Reading::Known && life.entry == Distance() && life.mayHaveFailed());
}

} // namespace

LifeColumns toColumns(std::span<const Life> lives, DistanceUnit unit, Reading reading, Intervals intervals) {
    LifeColumns columns;
    Lives& table = columns.lives;
    std::unordered_map<VehicleId, std::uint32_t> vehicles;
    bool isEntered = false;
    bool isInterval = false;
    for (std::size_t i = 0; i < lives.size(); ++i) {
        const Life& life = lives[i];
        if (!isCounted(life, reading))
            continue;
        Row row = life.cameBack() ? comebackRow(life, reading, intervals) : openRow(life, reading);
        if (life.state == LifeState::EndedOtherwise && row.end != kCameBack)
            row.end = endCode(table, life.otherEnd);
        isEntered = isEntered || life.entry > Distance();
        isInterval = isInterval || row.until > row.miles;
        table.miles.push_back(row.miles.in(unit));
        table.end.push_back(row.end);
        table.entry.push_back(life.entry.in(unit));
        table.until.push_back(row.until.in(unit));
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
