// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/readings.h"

#include "core/life/life_sums.h"

#include <algorithm>
#include <utility>

namespace milehold::core {

namespace {

Result<void> read(std::span<const Life> lives, DistanceUnit unit, double level, Reading reading,
                  Intervals intervals, Counts& counts, Curve& curve) {
    counts = countsOfAll(toColumns(lives, unit, reading, intervals).lives);
    auto made = survivalCurve(counts, {level, LimitMethod::Linear});
    if (!made)
        return failureOf(made);
    curve = std::move(*made);
    return {};
}

} // namespace

std::optional<double> WorstCurves::at(double miles) const {
    const auto where = valueAt(seen, seenCounts, miles).survival;
    if (!where)
        return std::nullopt;
    const auto right = valueAt(begin, beginCounts, miles).survival;
    // Past its last distance the earlier curve is at most what it was there.
    const double last = begin.survival.empty() ? 1 : begin.survival.back();
    return std::min(*where, right.value_or(last));
}

ThreeReadings ReadingCurves::at(double miles) const {
    return {miles, valueAt(best, bestCounts, miles).survival, valueAt(known, knownCounts, miles).survival,
            worst.at(miles)};
}

Result<WorstCurves> worstCurves(std::span<const Life> lives, DistanceUnit unit, double level) {
    WorstCurves curves;
    if (auto done =
            read(lives, unit, level, Reading::Worst, Intervals::AsRead, curves.beginCounts, curves.begin);
        !done)
        return failureOf(done);
    if (auto done =
            read(lives, unit, level, Reading::Worst, Intervals::AtSeen, curves.seenCounts, curves.seen);
        !done)
        return failureOf(done);
    return curves;
}

Result<ReadingCurves> readingCurves(std::span<const Life> lives, DistanceUnit unit, double level) {
    ReadingCurves curves;
    if (auto done =
            read(lives, unit, level, Reading::Known, Intervals::AsRead, curves.knownCounts, curves.known);
        !done)
        return failureOf(done);
    if (auto done =
            read(lives, unit, level, Reading::Best, Intervals::AsRead, curves.bestCounts, curves.best);
        !done)
        return failureOf(done);
    auto worst = worstCurves(lives, unit, level);
    if (!worst)
        return failureOf(worst);
    curves.worst = std::move(*worst);
    return curves;
}

Result<TippingPoint> tippingPoint(std::span<const Life> lives, DistanceUnit unit, double claim,
                                  Distance horizon) {
    return tippingPoint(sumsOf(marksOf(lives), unit), claim, horizon);
}

} // namespace milehold::core
