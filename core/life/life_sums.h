// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/evidence.h"
#include "core/life/life_mark.h"
#include "core/life/readings.h"
#include "core/survival/counts.h"

#include <span>
#include <vector>

namespace milehold::core {

/// All that curves, evidence and readings need of some lives, added up once.
struct LifeSums {
    DistanceUnit unit = DistanceUnit::Miles;
    Evidence evidence; ///< without a horizon
    Counts known;
    Counts best;  ///< unseen distance quiet
    Counts seen;  ///< unseen distance failed, comebacks of an interval where they were seen
    Counts begin; ///< the same, those comebacks right after the interval's begin
    std::vector<Distance> unseenFrom; ///< how far each life was known that may have failed since; in no order

    /// The counts that a curve by one reading is drawn from: those of toColumns() with its usual intervals.
    const Counts& of(Reading reading) const;
};

/// Equal to what evidenceOf() and countsOfAll(toColumns(...)) say of the lives.   Cost: O(n), four radix
/// sorts.
LifeSums sumsOf(std::span<const LifeMark> lives, DistanceUnit unit);
/// Sums of disjoint sets of lives together; `parts` is not empty and of one unit.   Cost: O(h log parts).
LifeSums merged(std::span<const LifeSums> parts);

/// The three readings at one distance: as readingCurves() has them, without drawing the curves.
ThreeReadings readingsAt(const LifeSums& sums, double miles);

/// tippingPoint() of lives that are added up. Errors: the same.
Result<TippingPoint> tippingPoint(const LifeSums& sums, double claim, Distance horizon);

} // namespace milehold::core
