// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/lives_input.h"
#include "core/watch/cusum.h"

#include <optional>
#include <string>
#include <vector>

namespace milehold::cli {

/// Jobs of one group on the calendar.
struct WatchedGroup {
    std::string name;
    std::vector<core::WatchedJob> jobs;
};

struct WatchedBook {
    std::vector<WatchedGroup> groups;
    std::optional<core::Date> dayZero; ///< of a shop: the date of day 0

    std::string dateOf(double day) const; ///< with a day zero only
};

/// From a shop: each finished repair from the day it was delivered to its comeback, or to the last day on
/// which it was known quiet, grouped by a facet; what was not watched from its delivery on is left out. From
/// a lives table: `entered` is the day (a number) on which the job entered the watch, and `miles` counts the
/// days from there. Errors: those of readLives; InvalidInput for cells of `entered` that are no numbers.
core::Result<WatchedBook> readWatchedBook(Session& session, const LivesInput& input);

} // namespace milehold::cli
