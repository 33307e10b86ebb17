// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/readings.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace milehold::core {

namespace {

constexpr double kShareTolerance = 1e-9;

/// Every life as quiet all along (weight 1 - share) and as failed right away (weight share) where it has
/// unseen distance; as it is elsewhere.
double chanceAt(const Lives& best, const Lives& worst, double miles, double share) {
    Lives mixed;
    mixed.endNames = best.endNames;
    const auto add = [&](const Lives& from, std::size_t i, double weight) {
        if (weight <= 0)
            return;
        mixed.miles.push_back(from.miles[i]);
        mixed.end.push_back(from.end[i]);
        mixed.entry.push_back(from.entryOf(i));
        mixed.weight.push_back(weight);
    };
    for (std::size_t i = 0; i < best.size(); ++i) {
        add(best, i, 1 - share);
        add(worst, i, share);
    }
    const Counts counts = countsOfAll(mixed);
    const auto watched = counts.watched();
    double chance = 1;
    for (std::size_t i = 0; i < counts.size() && counts.miles[i] <= miles; ++i)
        if (counts.comebacks[i] > 0)
            chance *= 1 - counts.comebacks[i] / watched[i];
    return std::max(chance, 0.0);
}

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
    if (!(claim > 0 && claim < 1))
        return fail(ErrorCode::InvalidInput, "the claim is not between 0 and 1");
    if (horizon <= Distance())
        return fail(ErrorCode::InvalidInput, "the horizon is not positive");
    LifeColumns best = toColumns(lives, unit, Reading::Best);
    if (best.rows.empty())
        return fail(ErrorCode::InvalidInput, "there are no lives");
    // The same rows.
    const LifeColumns failed = toColumns(lives, unit, Reading::Worst, Intervals::AtSeen);
    TippingPoint point;
    const double miles = horizon.in(unit);
    double furthest = 0;
    for (std::size_t i = 0; i < best.rows.size(); ++i) {
        const Life& life = lives[best.rows[i]];
        furthest = std::max(furthest, best.lives.miles[i]);
        if (life.mayHaveFailed() && life.known < horizon)
            ++point.unseenLives;
    }
    if (furthest < miles)
        return fail(ErrorCode::NotEstimable, "nothing was watched, nor may have been, as far as the horizon");
    point.best = chanceAt(best.lives, failed.lives, miles, 0);
    point.worst = chanceAt(best.lives, failed.lives, miles, 1);
    if (point.best < claim) {
        point.verdict = TippingPoint::Verdict::FailsAnyway;
        return point;
    }
    if (point.unseenLives == 0)
        return point;
    if (point.worst >= claim) {
        point.verdict = TippingPoint::Verdict::HoldsAnyway;
        return point;
    }
    double holds = 0;
    double falls = 1;
    while (falls - holds > kShareTolerance) {
        const double middle = (holds + falls) / 2;
        (chanceAt(best.lives, failed.lives, miles, middle) >= claim ? holds : falls) = middle;
    }
    point.verdict = TippingPoint::Verdict::Falls;
    point.share = falls;
    return point;
}

} // namespace milehold::core
