// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/watch/cusum.h"

#include <boost/math/special_functions/gamma.hpp>

#include <algorithm>
#include <cmath>
#include <random>

namespace milehold::core {

namespace {

// Expected comebacks of all jobs from the origin to a day.
double expectedUntil(std::span<const WatchedJob> jobs, const ExpectedHazard& expected, double day) {
    double sum = 0;
    for (const WatchedJob& job : jobs)
        if (const double age = std::min(day, job.leaves) - job.enters; age > 0)
            sum += expected(age);
    return sum;
}

double uniform(std::mt19937_64& random) {
    return (static_cast<double>(random() >> 11) + 0.5) * 0x1.0p-53;
}

// Age at which a job meets its comeback at so many times the expected hazard, or nothing within `most`: the
// hazard inverted by halving.
std::optional<double> drawnAge(const ExpectedHazard& expected, double times, double most,
                               std::mt19937_64& random) {
    const double target = -std::log(uniform(random)) / times;
    if (!(most > 0) || expected(most) < target)
        return std::nullopt;
    double low = 0, high = most;
    for (int k = 0; k < 60 && high - low > 1e-9 * most; ++k) {
        const double middle = 0.5 * (low + high);
        (expected(middle) < target ? low : high) = middle;
    }
    return high;
}

} // namespace

Result<std::vector<CusumPoint>> cusum(std::span<const WatchedJob> jobs, const ExpectedHazard& expected,
                                      double hazardRatio, std::span<const double> days) {
    if (!(hazardRatio > 1) || !std::isfinite(hazardRatio))
        return fail(ErrorCode::InvalidInput, "the hazard ratio to watch for is greater than 1");
    std::vector<double> stops(days.begin(), days.end());
    std::vector<double> comebacks;
    for (const WatchedJob& job : jobs) {
        if (!(job.leaves >= job.enters))
            return fail(ErrorCode::InvalidInput, "a job leaves the watch no earlier than it enters");
        if (job.cameBack)
            comebacks.push_back(job.leaves);
    }
    std::sort(comebacks.begin(), comebacks.end());
    stops.insert(stops.end(), comebacks.begin(), comebacks.end());
    std::sort(stops.begin(), stops.end());
    stops.erase(std::unique(stops.begin(), stops.end()), stops.end());

    std::vector<CusumPoint> points;
    double value = 0, before = 0;
    for (const double day : stops) {
        const double until = expectedUntil(jobs, expected, day);
        value = std::max(0.0, value - (hazardRatio - 1) * (until - before));
        before = until;
        const auto [first, last] = std::equal_range(comebacks.begin(), comebacks.end(), day);
        value += std::log(hazardRatio) * static_cast<double>(last - first);
        points.push_back({day, value});
    }
    return points;
}

Result<double> cusumLimit(std::span<const double> enters, const ExpectedHazard& expected,
                          const CusumLimitOptions& options) {
    if (enters.empty())
        return fail(ErrorCode::InvalidInput, "no jobs to watch");
    if (!(options.horizon > 0) || !(options.falseAlarm > 0 && options.falseAlarm < 1) || options.runs < 1)
        return fail(ErrorCode::InvalidInput,
                    "horizon and runs are more than 0, the chance lies between 0 and 1");
    const std::optional<double>& behind = options.comebacksBehind;
    if (behind && !(*behind > 0))
        return fail(ErrorCode::InvalidInput, "nothing is to be expected from no comebacks");
    std::mt19937_64 random(options.seed);
    std::vector<double> highest;
    std::vector<WatchedJob> jobs;
    for (int run = 0; run < options.runs; ++run) {
        jobs.clear();
        const double times = behind ? boost::math::gamma_p_inv(*behind, uniform(random)) / *behind : 1;
        for (const double entered : enters) {
            const auto age = drawnAge(expected, times, options.horizon - entered, random);
            jobs.push_back(
                {entered, age ? entered + *age : std::max(entered, options.horizon), age.has_value()});
        }
        const auto points = cusum(jobs, expected, options.hazardRatio);
        if (!points)
            return failureOf(points);
        double top = 0;
        for (const CusumPoint& point : *points)
            top = std::max(top, point.value);
        highest.push_back(top);
    }
    std::sort(highest.begin(), highest.end());
    const auto allowed = static_cast<std::size_t>(options.falseAlarm * static_cast<double>(options.runs));
    const double limit = highest[highest.size() - 1 - std::min(allowed, highest.size() - 1)];
    return std::max(limit, std::log(options.hazardRatio));
}

double chanceOfAnyAlarm(double each, std::size_t parts) {
    return -std::expm1(static_cast<double>(parts) * std::log1p(-each));
}

std::optional<double> alarmDay(std::span<const CusumPoint> points, double limit) {
    for (const CusumPoint& point : points)
        if (point.value > limit)
            return point.day;
    return std::nullopt;
}

} // namespace milehold::core
