// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <vector>

namespace milehold::core {

/// One job under watch on the calendar, days from any origin: watched from `enters` to `leaves`, where it
/// came back or was last known to hold.
struct WatchedJob {
    double enters = 0;
    double leaves = 0; ///< >= enters
    bool cameBack = false;
};

/// Cumulative hazard that a job has met `age` days after it entered: what is expected of a part in good
/// order. 0 at 0, never falling.
using ExpectedHazard = std::function<double(double age)>;

struct CusumPoint {
    double day = 0;
    double value = 0; ///< just after what happened on that day
};

/// The running sum of ln(ratio) for each comeback less (ratio - 1) for each expected one, never below 0: low
/// while comebacks come as expected, climbing where they come faster. Restart it for a new part revision.
///
/// Input:  jobs in any order; hazardRatio > 1; days at which to read it (those of the comebacks always are).
/// Output: one point a day asked for or with a comeback, ascending.
/// Errors: InvalidInput.       Cost: O((days + comebacks) * jobs).
/// Source: Biswas & Kalbfleisch 2008, Stat Med 27:3382.
Result<std::vector<CusumPoint>> cusum(std::span<const WatchedJob> jobs, const ExpectedHazard& expected,
                                      double hazardRatio, std::span<const double> days = {});

struct CusumLimitOptions {
    double horizon = 365.25; ///< days over which the chance of a false alarm is stated
    double falseAlarm = 0.05;
    double hazardRatio = 2;
    int runs = 2000;
    std::uint64_t seed = 1;
    /// Comebacks that the expected hazard was estimated from; empty: it is known. Few of them make it too
    /// high or too low by chance, and a limit that took it for known would be passed too often.
    std::optional<double> comebacksBehind = {};
};

/// Height that the sum passes within the horizon with chance `falseAlarm` while the part is in good order:
/// the quantile of the highest value in `runs` simulated years. Jobs enter as given (days from 0) and stay
/// under watch to the horizon. Where the expected hazard is an estimate, each run is lived at a hazard of its
/// own, the expected one times a gamma variable of mean 1 and variance 1 / comebacksBehind, and watched
/// against the expected one. Source: Gandy & Kvaloy 2013, Scand J Stat 40:647 (the estimate drawn anew).
/// Errors: InvalidInput for no jobs or options out of range. Note:   where fewer runs than that see any
/// comeback at all the limit is the height of one comeback, ln(hazardRatio):
///         a single one is then already rarer than the chance asked for.
Result<double> cusumLimit(std::span<const double> enters, const ExpectedHazard& expected,
                          const CusumLimitOptions& options = {});

/// Chance that any of so many sums passes its limit while all parts are in good order, each with the chance
/// `each`: 1 - (1 - each)^parts, exact where they do not hang together and an upper bound where they rise
/// together. Source: Sidak 1967, JASA 62:626.
double chanceOfAnyAlarm(double each, std::size_t parts);

/// The first day on which the sum is above the limit.
std::optional<double> alarmDay(std::span<const CusumPoint> points, double limit);

} // namespace milehold::core
