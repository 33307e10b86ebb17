// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/path_evidence.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

namespace milehold::core {

namespace {

/// The distance just after which fewer than five are watched for the first time; the last one where they
/// never are.
double firstFewAfter(const Counts& counts, const Curve& curve) {
    double watched = counts.lives() - std::accumulate(counts.entered.begin(), counts.entered.end(), 0.0);
    std::size_t next = 0;
    for (std::size_t i = 0; i < curve.size(); ++i) {
        if (watched < kFewest)
            return i == 0 ? 0 : curve.miles[i - 1];
        for (; next < counts.entryMiles.size() && counts.entryMiles[next] <= curve.miles[i]; ++next)
            watched += counts.entered[next];
        watched -= curve.comebacksAt[i] + curve.leftAt[i];
    }
    return curve.longestWatched;
}

/// What may be said at a distance of lives of which fewer than five are watched somewhere after `fewFrom`.
QuotePoint pointBefore(double fewFrom, const Counts& counts, const Curve& curve, double miles) {
    QuotePoint point;
    point.watched = counts.watchedAt(miles);
    point.few = point.watched < kFewest || miles > fewFrom;
    point.beyond = miles > curve.longestWatched;
    if (point.beyond)
        return point;
    CurvePoint value = valueAt(curve, counts, miles);
    const bool lastLeft = miles == curve.longestWatched && curve.comebacksAt.back() == 0;
    if (lastLeft && miles > 0) {
        const CurvePoint before = valueAt(curve, counts, std::nextafter(miles, 0.0));
        value.lower = before.lower;
        value.upper = before.upper;
    }
    point.lower = value.lower;
    point.upper = value.upper;
    // Before the first comeback the estimate would be "all", which reads as never.
    if (value.survival && *value.survival == 1 && point.lower)
        point.atLeast = oneSidedBeforeComebacks(*point.lower, curve.options.level);
    else if (value.survival && !point.few)
        point.chance = value.survival;
    return point;
}

} // namespace

Result<WatchedSet> WatchedSet::of(Counts counts, double level) {
    auto curve = survivalCurve(counts, {level, LimitMethod::Exact});
    if (!curve)
        return failureOf(curve);
    WatchedSet set;
    set.counts_ = std::move(counts);
    set.curve_ = std::move(*curve);
    set.fewFrom_ = firstFewAfter(set.counts_, set.curve_);
    return set;
}

QuotePoint WatchedSet::pointAt(double miles) const {
    return pointBefore(fewFrom_, counts_, curve_, miles);
}

QuotePoint WatchedSet::pointOf(const Counts& counts, const Curve& curve, double miles) {
    return pointBefore(firstFewAfter(counts, curve), counts, curve, miles);
}

double oneSidedBeforeComebacks(double twoSidedLower, double level) {
    return std::pow(twoSidedLower, std::log(1 - level) / std::log((1 - level) / 2));
}

} // namespace milehold::core
