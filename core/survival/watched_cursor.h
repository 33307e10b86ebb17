// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/counts.h"

#include <vector>

namespace milehold::core {

/// How many of a group are watched at mileages asked for in ascending order.   Cost: O(h) in all.
class WatchedCursor {
public:
    explicit WatchedCursor(const Counts& counts);

    /// Those with entry < t <= miles (at 0: entry 0); t not below the one asked for before.
    double at(double t);

    /// Those who come back exactly at the mileage asked for last.
    double comebacks() const;

private:
    const Counts* counts_;
    std::vector<double> notYetGone_; ///< from each own mileage on
    std::vector<double> notYetCome_; ///< from each entry on
    std::size_t exit_ = 0;
    std::size_t entry_ = 0;
    double at_ = 0;
    bool whole_ = true;
};

} // namespace milehold::core
