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
    double lastDay = 0;                ///< of a shop: the day it is looked at; of a table: its last
    double lastEntry = 0;              ///< the last day on which a job entered

    std::string dateOf(double day) const; ///< with a day zero only
};

/// From a shop: each finished repair from the day it was delivered to its comeback, or to the last day on
/// which it was known quiet, grouped by a facet. From a lives table: `entered` is the day (a number) on which
/// the job was delivered, and column `days`, or `miles` without one, counts the days from there, as `export
/// lives --days` writes them. What was not watched from its delivery on (entry above 0) is left out.
/// Errors: those of readLives; InvalidInput for cells that are no numbers; NotEstimable when nothing is left.
core::Result<WatchedBook> readWatchedBook(Session& session, const LivesInput& input);

} // namespace milehold::cli
