// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/watched_cursor.h"

namespace milehold::core {

WatchedCursor::WatchedCursor(const Counts& counts)
    : counts_(&counts), notYetGone_(counts.size() + 1), notYetCome_(counts.entryMiles.size() + 1),
      whole_(counts.isWhole()) {
    for (std::size_t i = counts.size(); i-- > 0;)
        notYetGone_[i] = notYetGone_[i + 1] + (counts.comebacks[i] + counts.left[i]);
    for (std::size_t e = counts.entryMiles.size(); e-- > 0;)
        notYetCome_[e] = notYetCome_[e + 1] + counts.entered[e];
}

double WatchedCursor::at(double t) {
    while (exit_ < counts_->size() && counts_->miles[exit_] < t)
        ++exit_;
    while (entry_ < counts_->entryMiles.size() && counts_->entryMiles[entry_] < t)
        ++entry_;
    at_ = t;
    const double n = notYetGone_[exit_] - notYetCome_[entry_];
    return !whole_ && n < Counts::kResidue * notYetGone_[exit_] ? 0 : n;
}

double WatchedCursor::comebacks() const {
    return exit_ < counts_->size() && counts_->miles[exit_] == at_ ? counts_->comebacks[exit_] : 0;
}

} // namespace milehold::core
