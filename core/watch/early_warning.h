// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/watch/cusum.h"

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace milehold::core {

inline constexpr double kFewestUsual = 5;   ///< comebacks of others before anything is expected of a part
inline constexpr double kAlarmAYear = 0.05; ///< chance that one part in good order passes its limit in a year
inline constexpr int kWarningRuns = 400;    ///< simulated courses behind a limit: 0.05 is kept to within 0.01

/// Cumulative hazard over the days since a repair, as steps; 0 at 0, and flat from `longest` on, where nobody
/// was watched any more.
struct UsualHazard {
    std::vector<double> days, hazard; ///< same length, ascending
    double comebacks = 0;             ///< that it rests on
    double longest = 0;               ///< days of the longest watched

    double operator()(double age) const;
};

/// What is usual: the Nelson-Aalen hazard over the days from `enters` to `leaves`.
///
/// Input:  jobs that were watched from their delivery on, in any order. One that never held (comeback on the
/// day of
///         its delivery) counts half a day after it, since an expected hazard is 0 at 0.
/// Errors: NotEstimable for fewer than kFewestUsual comebacks.     Cost: O(n log n).
/// Source: Nelson 1969; Aalen 1978.
Result<UsualHazard> usualHazard(std::span<const WatchedJob> jobs);

struct EarlyWarningOptions {
    double hazardRatio = 2;               ///< how many times as fast is to be noticed, > 1
    double falseAlarmAYear = kAlarmAYear; ///< in (0, 1)
    int runs = kWarningRuns;              ///< >= 1
    std::uint64_t seed = 1;
};

/// The running sum of one part.
struct EarlyWarning {
    int repairs = 0;
    int comebacks = 0;   ///< while others of that age were watched
    double expected = 0; ///< of them, by the hazard that is usual
    double first = 0;    ///< day of the first repair, on the calendar of the input
    std::vector<CusumPoint>
        points; ///< days from `first`, weekly or 200 of them, and each comeback; ends today
    double limit = 0;
    std::optional<double> alarm; ///< days from `first`
};

/// Whether the comebacks of a part come faster than is usual, since its first repair: the one method behind
/// every warning.
///
/// Input:  jobs of the part, days on one calendar, >= 1, watched from their delivery on; what is usual, from
/// jobs that are not
///         of the part; today, on the same calendar, at or after every `enters`.
/// A job is watched to the longest age at which others were: past it nothing is known to be usual, and a
/// comeback there counts for nothing. A comeback on the day of the delivery counts half a day later.
/// The limit is that of cusumLimit over the days since the first repair, at the chance of a false alarm that
/// so many years add up to, and counts that what is usual is an estimate. Jobs stay under watch to the end in
/// the simulation, so the true chance is at most the stated one.
/// Errors: InvalidInput for no jobs or options out of range.
/// Source: Biswas & Kalbfleisch 2008, Stat Med 27:3382; Gandy & Kvaloy 2013, Scand J Stat 40:647.
Result<EarlyWarning> earlyWarning(std::span<const WatchedJob> jobs, const UsualHazard& usual, double today,
                                  const EarlyWarningOptions& options = {});

} // namespace milehold::core
