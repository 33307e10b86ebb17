// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/quiet_cost.h"

#include <algorithm>

namespace milehold::core {

namespace {

constexpr double kEach = 1000;

/// Area under a step column over [0, end], `first` before the first step.
double areaUnder(const Curve& curve, const std::vector<double>& column, double first, double end) {
    double area = 0;
    double from = 0;
    double value = first;
    for (std::size_t i = 0; i < curve.size() && curve.miles[i] < end; ++i) {
        area += value * (curve.miles[i] - from);
        from = curve.miles[i];
        value = column[i];
    }
    return area + value * (end - from);
}

} // namespace

Result<QuietCost> quietCost(const WatchedSet& watched, double within, Money price) {
    if (price.minor <= 0)
        return fail(ErrorCode::NotEstimable, "no price yet");
    if (watched.lives() < kFewest)
        return fail(ErrorCode::NotEstimable, "too few to say");
    const QuotePoint at = watched.pointAt(within);
    if (at.beyond || at.few || within <= 0)
        return fail(ErrorCode::NotEstimable, "too few watched so far");
    const Curve& curve = watched.curve();
    QuietCost cost;
    cost.within = within;
    cost.quietLower = areaUnder(curve, curve.lower, curve.lowerBeforeFirst, within);
    cost.quietUpper = areaUnder(curve, curve.upper, curve.upperBeforeFirst, within);
    const auto each = [&](double quiet) { return static_cast<double>(price.minor) * kEach / quiet; };
    cost.eachLower = each(cost.quietUpper);
    cost.eachUpper = each(cost.quietLower);
    if (!at.chance)
        return cost;
    const auto mean = restrictedMean(curve, within);
    if (!mean)
        return failureOf(mean);
    cost.quiet = mean->mean;
    cost.each = each(mean->mean);
    return cost;
}

} // namespace milehold::core
