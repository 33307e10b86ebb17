// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/watch/early_warning.h"

#include "core/survival/counts.h"

#include <algorithm>
#include <cmath>

namespace milehold::core {

namespace {

constexpr double kDaysInYear = 365.25;
constexpr double kHalfADay = 0.5;

double ageOf(const WatchedJob& job) {
    const double age = std::max(0.0, job.leaves - job.enters);
    return job.cameBack ? std::max(age, kHalfADay) : age;
}

/// The job as far as others of its age were watched.
WatchedJob comparable(const WatchedJob& job, double longest) {
    const double age = ageOf(job);
    return {job.enters, job.enters + std::min(age, longest), job.cameBack && age <= longest};
}

} // namespace

double UsualHazard::operator()(double age) const {
    const auto next = std::upper_bound(days.begin(), days.end(), age);
    return next == days.begin() ? 0 : hazard[static_cast<std::size_t>(next - days.begin()) - 1];
}

Result<UsualHazard> usualHazard(std::span<const WatchedJob> jobs) {
    Lives lives;
    UsualHazard usual;
    for (const WatchedJob& job : jobs) {
        const double age = ageOf(job);
        lives.miles.push_back(age);
        lives.end.push_back(job.cameBack ? kCameBack : kHolding);
        usual.comebacks += job.cameBack ? 1 : 0;
        usual.longest = std::max(usual.longest, age);
    }
    if (usual.comebacks < kFewestUsual)
        return fail(ErrorCode::NotEstimable, "fewer than five comebacks: nothing to expect from");
    const Counts counts = countsOfAll(lives);
    const auto watched = counts.watched();
    double sum = 0;
    for (std::size_t i = 0; i < counts.size(); ++i) {
        if (counts.comebacks[i] <= 0)
            continue;
        sum += counts.comebacks[i] / watched[i];
        usual.days.push_back(counts.miles[i]);
        usual.hazard.push_back(sum);
    }
    return usual;
}

Result<EarlyWarning> earlyWarning(std::span<const WatchedJob> jobs, const UsualHazard& usual, double today,
                                  const EarlyWarningOptions& options) {
    if (jobs.empty())
        return fail(ErrorCode::InvalidInput, "no jobs to watch");
    if (!(options.falseAlarmAYear > 0 && options.falseAlarmAYear < 1))
        return fail(ErrorCode::InvalidInput, "the chance of a false alarm lies between 0 and 1");
    EarlyWarning warning;
    warning.first = jobs.front().enters;
    for (const WatchedJob& job : jobs)
        warning.first = std::min(warning.first, job.enters);

    std::vector<WatchedJob> watched;
    std::vector<double> enters;
    for (const WatchedJob& one : jobs) {
        WatchedJob job = comparable(one, usual.longest);
        job.enters -= warning.first;
        job.leaves -= warning.first;
        ++warning.repairs;
        warning.comebacks += job.cameBack ? 1 : 0;
        warning.expected += usual(job.leaves - job.enters);
        watched.push_back(job);
        enters.push_back(job.enters);
    }
    // A clock that is behind the records must not shorten the watch that the limit is for.
    double end = std::max(1.0, today - warning.first);
    for (const WatchedJob& job : watched)
        end = std::max(end, job.leaves);
    std::vector<double> days;
    for (double day = 0; day < end; day += std::max(7.0, end / 200))
        days.push_back(day);
    days.push_back(end);
    auto points = cusum(watched, usual, options.hazardRatio, days);
    if (!points)
        return failureOf(points);
    warning.points = std::move(*points);

    CusumLimitOptions how;
    how.horizon = end;
    how.falseAlarm = -std::expm1(std::log1p(-options.falseAlarmAYear) * end / kDaysInYear);
    how.hazardRatio = options.hazardRatio;
    how.runs = options.runs;
    how.seed = options.seed;
    how.comebacksBehind = usual.comebacks;
    const auto limit = cusumLimit(enters, usual, how);
    if (!limit)
        return failureOf(limit);
    warning.limit = *limit;
    warning.alarm = alarmDay(warning.points, warning.limit);
    return warning;
}

} // namespace milehold::core
