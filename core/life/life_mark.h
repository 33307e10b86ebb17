// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life.h"

#include <span>
#include <vector>

namespace milehold::core {

/// What curves and evidence read of a life, small enough to go through a million of them side by side; its
/// keys, dates and sources stay behind.
struct LifeMark {
    Distance entry;
    Distance known;
    Distance until; ///< a comeback lies in (known, until]; `known` itself where it is exact, or none
    Distance unseen;
    Distance unchecked;
    LifeState state = LifeState::Holding;
    OtherEnd otherEnd = OtherEnd::None;
    LostReason lostReason = LostReason::None;
    bool contributes = true;
    bool cameBack = false;
    bool followed = false;
    bool mayHaveFailed = false;
};

LifeMark markOf(const Life& life);
std::vector<LifeMark> marksOf(std::span<const Life> lives);

/// Where a life stands in a curve by one reading, as toColumns() has it.
struct LifePoint {
    Distance at;
    Distance until; ///< same as `at` where it is exact
    bool cameBack = false;
};

/// False where the life is no row of that reading's curve.
bool isCounted(const LifeMark& life, Reading reading);
LifePoint pointOf(const LifeMark& life, Reading reading, Intervals intervals = Intervals::AsRead);

} // namespace milehold::core
