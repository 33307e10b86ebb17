// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/watched_cursor.h"

namespace milehold::core {

WatchedCursor::WatchedCursor(const Counts& counts)
    : counts_(&counts), notYetGone_(counts.size() + 1), notYetCome_(counts.entryMiles.size() + 1),
      whole_(counts.entryMiles.empty() || counts.isWhole()) {
    for (std::size_t i = counts.size(); i-- > 0;)
        notYetGone_[i] = notYetGone_[i + 1] + (counts.comebacks[i] + counts.left[i]);
    for (std::size_t e = counts.entryMiles.size(); e-- > 0;)
        notYetCome_[e] = notYetCome_[e + 1] + counts.entered[e];
}

} // namespace milehold::core
