// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/life_profile.h"

#include "core/survival/life_fit.h"
#include "core/survival/numeric.h"

#include <algorithm>
#include <cmath>

namespace milehold::core {

namespace {

// Logarithms of miles that a double can hold with room to spare.
constexpr double kFarthest = 700.0;

/// The best log likelihood with the p-life held at exp(c): value, its slope in c, and where it is.
struct Profile {
    double value = 0;
    double slope = 0;
    double b = 1;
};

// On the line a = b c - q the likelihood has one parameter left, b; concave there without delayed entry.
Profile profileAt(const LifeData& data, LifeModel model, double q, double c, double startB) {
    const auto along = [&](double b) { return logLikelihood(data, model, b * c - q, b); };
    double b = startB;
    LikelihoodTerms at = along(b);
    for (int k = 0; k < 200 && !std::isfinite(at.value); ++k)
        at = along(b *= 0.5);
    if (model == LifeModel::Exponential)
        return {at.value, at.a, 1.0};
    for (int k = 0; k < 200; ++k) {
        // In ln b, so that b stays above 0 and a border at 0 or infinity is walked to, not jumped over.
        const double first = b * (at.a * c + at.b);
        const double second = b * b * (at.aa * c * c + 2 * c * at.ab + at.bb) + first;
        double step = second < 0 ? -first / second : (first > 0 ? 1.0 : -1.0);
        step = std::clamp(step, -1.5, 1.5);
        if (first * step < 1e-17)
            break;
        LikelihoodTerms next;
        double nextB = b;
        bool climbed = false;
        for (int half = 0; half < 60; ++half, step *= 0.5) {
            nextB = b * std::exp(step);
            next = along(nextB);
            if (std::isfinite(next.value) && next.value > at.value) {
                climbed = true;
                break;
            }
        }
        if (!climbed)
            break;
        b = nextB;
        at = next;
        if (b < 1e-14 || b > 1e14)
            break;
    }
    return {at.value, at.a * b, b};
}

/// How far below the top the profile lies, as a signed root: near enough linear in c for Newton steps.
double depth(double top, double value) {
    return std::sqrt(std::max(0.0, 2 * (top - value)));
}

std::optional<double> limit(const LifeData& data, const LifeFit& fit, double q, double sign, double center,
                            double se, double deviate) {
    const double logUnit = std::log(data.unit);
    const double top = fit.logLikelihood;
    const double border = sign * kFarthest - logUnit;
    double inside = center;
    double b = 1 / fit.scatter;
    // Walk outwards until the profile is too low, at most to the end of what a double can hold.
    double outside = center;
    double step = std::max(se, 1e-12) * deviate;
    Profile at;
    bool found = false;
    for (int k = 0; k < 400 && !found; ++k) {
        outside = inside + sign * step;
        const bool last = sign * outside >= sign * border;
        if (last)
            outside = border;
        at = profileAt(data, fit.model, q, outside, b);
        const double d = depth(top, at.value);
        found = !(d < deviate);
        if (found)
            break;
        if (last)
            return std::nullopt;
        inside = outside;
        b = at.b;
        // As the depth tells, but never less than half again as far.
        step =
            std::max(0.5 * std::abs(outside - center), std::min(4.0, deviate / std::max(d, 0.1) - 1) * step);
    }
    if (!found)
        return std::nullopt;
    double c = outside;
    for (int k = 0; k < 200; ++k) {
        const double d = depth(top, at.value);
        if (d < deviate) {
            inside = c;
            b = at.b;
        } else {
            outside = c;
        }
        if (std::abs(outside - inside) < 1e-15 * (1 + std::abs(c)))
            break;
        double next = std::isfinite(d) && d > 0 && at.slope != 0 ? c + (d - deviate) * d / at.slope : outside;
        const double low = std::min(inside, outside), high = std::max(inside, outside);
        if (!(next > low && next < high))
            next = 0.5 * (low + high);
        const double moved = std::abs(next - c);
        c = next;
        at = profileAt(data, fit.model, q, c, b);
        if (moved < 1e-13 * (1 + std::abs(c)))
            break;
    }
    return representable(c + logUnit);
}

} // namespace

std::optional<double> representable(double logMiles) {
    if (!(logMiles > -kFarthest && logMiles < kFarthest))
        return std::nullopt;
    return std::exp(logMiles);
}

LifeQuantile profileQuantile(const LifeData& data, const LifeFit& fit, double p, double level) {
    const double q = standardQuantile(fit.model, p);
    const LifeQuantile wald = waldQuantile(fit, p, level);
    const double center = fit.location + q * fit.scatter - std::log(data.unit);
    const double s = q * fit.scatter;
    const double se =
        std::sqrt(fit.covariance[0][0] + 2 * s * fit.covariance[0][1] + s * s * fit.covariance[1][1]);
    const double deviate = twoSidedDeviate(level);
    return {p, wald.miles, limit(data, fit, q, -1, center, se, deviate),
            limit(data, fit, q, 1, center, se, deviate)};
}

} // namespace milehold::core
