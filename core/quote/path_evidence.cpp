// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/path_evidence.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace milehold::core {

Result<WatchedSet> WatchedSet::of(Counts counts, double level) {
    auto curve = survivalCurve(counts, {level, LimitMethod::Exact});
    if (!curve)
        return failureOf(curve);
    WatchedSet set;
    set.counts_ = std::move(counts);
    set.curve_ = std::move(*curve);
    return set;
}

bool WatchedSet::isFew(double miles) const {
    if (counts_.watchedAt(miles) < kFewest)
        return true;
    // With late entries the watched set may have been small at an earlier comeback, which then weighs too
    // much.
    for (std::size_t i = 0; i < curve_.size() && curve_.miles[i] <= miles; ++i)
        if (curve_.comebacksAt[i] > 0 && curve_.watched[i] < kFewest)
            return true;
    return false;
}

QuotePoint WatchedSet::pointAt(double miles) const {
    QuotePoint point;
    point.watched = counts_.watchedAt(miles);
    point.few = isFew(miles);
    point.beyond = miles > curve_.longestWatched;
    if (point.beyond)
        return point;
    CurvePoint value = valueAt(curve_, counts_, miles);
    const bool lastLeft = miles == curve_.longestWatched && curve_.comebacksAt.back() == 0;
    if (lastLeft && miles > 0) {
        const CurvePoint before = valueAt(curve_, counts_, std::nextafter(miles, 0.0));
        value.lower = before.lower;
        value.upper = before.upper;
    }
    point.lower = value.lower;
    point.upper = value.upper;
    if (comebacks() > 0 && !point.few) // five that are watched are five lives, too
        point.chance = value.survival;
    return point;
}

std::optional<double> twoSidedFor(double level) {
    if (level <= 0.5)
        return std::nullopt;
    return 2 * level - 1;
}

} // namespace milehold::core
