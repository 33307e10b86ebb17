// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/lives.h"

#include <vector>

namespace milehold::core {

/// What one row says about the mileage T of the comeback: T lies in (lower, upper], and the life was watched
/// from `entry` on. An exact comeback has lower == upper; a life that never came back has upper = infinity.
struct Observation {
    double lower = 0;
    double upper = 0;
    double entry = 0;
    double weight = 1;

    bool isExact() const { return lower == upper; }
    bool cameBack() const;
    friend bool operator==(const Observation&, const Observation&) = default;
};

/// Observations by group, in the order of Lives::groupNames: sorted, equal rows added up. Every end but a
/// comeback just stops the watch. Input:  valid lives (see validate).   Cost: O(n log n).
std::vector<std::vector<Observation>> observationsByGroup(const Lives& lives);

/// Sorts by (lower, upper, entry) and adds up the weights of equal rows.
void mergeEqual(std::vector<Observation>& rows);

} // namespace milehold::core
