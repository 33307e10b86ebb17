// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/curve.h"

#include "core/survival/crossing.h"
#include "core/survival/curve_steps.h"
#include "core/survival/curve_taking.h"
#include "core/survival/exact_limits.h"

#include <algorithm>
#include <cmath>

namespace milehold::core {

namespace {

std::optional<double> within(const std::vector<double>& column, std::size_t i, std::size_t begin,
                             std::size_t end) {
    if (i < begin || i >= end)
        return std::nullopt;
    return column[i];
}

} // namespace

CurveStep Curve::step(std::size_t i) const {
    CurveStep s;
    s.miles = miles[i];
    s.watched = watched[i];
    s.comebacks = comebacksAt[i];
    s.left = leftAt[i];
    s.survival = survival[i];
    s.se = within(se, i, 0, seEnd);
    s.lower = within(lower, i, limitsBegin, limitsEnd);
    s.upper = within(upper, i, limitsBegin, limitsEnd);
    s.cumulativeHazard = cumulativeHazard[i];
    s.cumulativeHazardSe = cumulativeHazardSe[i];
    return s;
}

Result<Curve> survivalCurve(const Counts& counts, const CurveOptions& options) {
    Counts own; // all but the split of the ends
    own.miles = counts.miles;
    own.comebacks = counts.comebacks;
    own.left = counts.left;
    own.entryMiles = counts.entryMiles;
    own.entered = counts.entered;
    return curveTaking(std::move(own), options);
}

Result<Curve> curveTaking(Counts&& counts, const CurveOptions& options) {
    if (counts.size() == 0)
        return fail(ErrorCode::InvalidInput, "there are no lives to draw a curve from");
    if (!(options.level > 0 && options.level < 1))
        return fail(ErrorCode::InvalidInput, "the level of the limits is not between 0 and 1");
    Curve curve;
    curve.options = options;
    curve.longestWatched = counts.longestWatched();
    curve.watched = counts.watched();
    curve.lives = counts.entryMiles.empty() ? curve.watched.front() : counts.lives();
    curve.miles = std::move(counts.miles);
    curve.comebacksAt = std::move(counts.comebacks);
    curve.leftAt = std::move(counts.left);
    addSteps(curve);
    if (options.limits == LimitMethod::Exact || options.limits == LimitMethod::ExactMidP)
        addExactLimits(curve);
    return curve;
}

CurvePoint valueAt(const Curve& curve, const Counts& counts, double miles) {
    CurvePoint point;
    point.miles = miles;
    point.watched = counts.watchedAt(miles);
    if (!(miles >= 0) || miles > curve.longestWatched)
        return point;
    const auto after = std::upper_bound(curve.miles.begin(), curve.miles.end(), miles) - curve.miles.begin();
    if (after == 0) {
        point.survival = 1;
        point.se = 0;
        if (curve.limitsBeforeFirst) {
            point.lower = curve.lowerBeforeFirst;
            point.upper = curve.upperBeforeFirst;
        }
        return point;
    }
    const CurveStep step = curve.step(static_cast<std::size_t>(after) - 1);
    point.survival = step.survival;
    point.se = step.se;
    point.lower = step.lower;
    point.upper = step.upper;
    return point;
}

CurveQuantile quantile(const Curve& curve, double p) {
    CurveQuantile q;
    q.p = p;
    const auto reach = [&](const std::vector<double>& values, std::size_t begin, std::size_t end) {
        return crossing(curve.miles, values, begin, end, p, curve.longestWatched);
    };
    q.miles = reach(curve.survival, 0, curve.size());
    q.lower = reach(curve.lower, curve.limitsBegin, curve.limitsEnd);
    q.upper = reach(curve.upper, curve.limitsBegin, curve.limitsEnd);
    return q;
}

Result<RestrictedMean> restrictedMean(const Curve& curve, double tau) {
    if (!(tau > 0 && tau <= curve.longestWatched))
        return fail(ErrorCode::InvalidInput, "the horizon is not above 0 and within the longest watch");
    const auto steps = static_cast<std::size_t>(
        std::upper_bound(curve.miles.begin(), curve.miles.end(), tau) - curve.miles.begin());
    RestrictedMean result;
    result.tau = tau;
    double variance = 0;
    double area = 0; // from the step to tau
    double right = tau;
    for (std::size_t i = steps; i-- > 0;) {
        area += curve.survival[i] * (right - curve.miles[i]);
        right = curve.miles[i];
        const double d = curve.comebacksAt[i];
        const double n = curve.watched[i];
        if (d > 0 && n > d)
            variance += area * area * d / (n * (n - d));
    }
    result.mean = area + right; // S is 1 before the first step
    result.se = std::sqrt(variance);
    return result;
}

Result<ConditionalCurve> conditionalCurve(const Counts& counts, double given, std::span<const double> at,
                                          const CurveOptions& options) {
    if (!(given >= 0))
        return fail(ErrorCode::InvalidInput, "the miles already run are negative");
    const Counts beyond = restartedAt(counts, given);
    if (beyond.size() == 0)
        return fail(ErrorCode::InvalidInput, "no life is watched beyond the miles already run");
    const auto curve = survivalCurve(beyond, options);
    if (!curve)
        return failureOf(curve);
    ConditionalCurve result;
    result.given = given;
    for (const double t : at) {
        if (t >= given) {
            result.at.push_back(valueAt(*curve, beyond, t));
            continue;
        }
        result.at.emplace_back(); // before `given` the question does not arise
        result.at.back().miles = t;
        result.at.back().watched = counts.watchedAt(t);
    }
    return result;
}

} // namespace milehold::core
