// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/counts.h"

#include <limits>
#include <vector>

namespace milehold::core {

/// How many of a group are watched at mileages asked for in ascending order.   Cost: O(h) in all.
class WatchedCursor {
public:
    explicit WatchedCursor(const Counts& counts);

    /// Those with entry < t <= miles (at 0: entry 0); t not below the one asked for before.
    double at(double t) {
        while (exit_ < counts_->size() && counts_->miles[exit_] < t)
            ++exit_;
        while (entry_ < counts_->entryMiles.size() && counts_->entryMiles[entry_] < t)
            ++entry_;
        at_ = t;
        const double n = notYetGone_[exit_] - notYetCome_[entry_];
        return !whole_ && n < Counts::kResidue * notYetGone_[exit_] ? 0 : n;
    }

    /// Those who come back exactly at the mileage asked for last.
    double comebacks() const {
        return exit_ < counts_->size() && counts_->miles[exit_] == at_ ? counts_->comebacks[exit_] : 0;
    }

    /// The nearest mileage at which one of the group goes, not yet passed; infinite when there is none.
    double next() const {
        return exit_ < counts_->size() ? counts_->miles[exit_] : std::numeric_limits<double>::infinity();
    }

    /// Goes on beyond next().
    void pass() { ++exit_; }

    double lives() const { return notYetGone_.front(); }

private:
    const Counts* counts_;
    std::vector<double> notYetGone_; ///< from each own mileage on
    std::vector<double> notYetCome_; ///< from each entry on
    std::size_t exit_ = 0;
    std::size_t entry_ = 0;
    double at_ = 0;
    bool whole_ = true; ///< nothing to take off, or sums are exact
};

} // namespace milehold::core
