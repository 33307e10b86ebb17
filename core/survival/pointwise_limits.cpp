// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/pointwise_limits.h"

#include "core/survival/numeric.h"
#include "core/survival/wide_loops.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace milehold::core {

namespace {

// The odd and the even part of e^x - 1 for |x| <= kSmall by its series, whose remainder is below the
// rounding: loops of it need no library call.
constexpr double kSmall = 0.2;
double oddPart(double x) {
    const double q = x * x;
    return x * (1 + q * (1.0 / 6 + q * (1.0 / 120 + q * (1.0 / 5040 + q * (1.0 / 362880)))));
}
double evenPart(double x) {
    const double q = x * x;
    return q * (1.0 / 2 + q * (1.0 / 24 + q * (1.0 / 720 + q * (1.0 / 40320 + q * (1.0 / 3628800)))));
}

} // namespace

PointwiseLimits::PointwiseLimits(LimitMethod method, double level)
    : method_(method), z_(twoSidedDeviate(level)) {}

MILEHOLD_WIDE_LOOPS void PointwiseLimits::work(std::span<const double> survival, std::span<const double> se,
                                               std::span<double> lower, std::span<double> upper) {
    assert(survival.size() <= kMost);
    const std::size_t n = survival.size();
    if (method_ == LimitMethod::Linear) {
        for (std::size_t i = 0; i < n; ++i) {
            lower[i] = std::max(0.0, survival[i] - z_ * se[i]);
            upper[i] = std::min(1.0, survival[i] + z_ * se[i]);
        }
    } else if (method_ == LimitMethod::Log) {
        for (std::size_t i = 0; i < n; ++i) {
            const double factor = std::exp(z_ * se[i] / survival[i]);
            lower[i] = survival[i] / factor;
            upper[i] = std::min(1.0, survival[i] * factor);
        }
    } else if (!logLogOfMany(survival, se, lower, upper)) {
        // S to the powers e^c and e^-c, c = z se / (S |ln S|).
        for (std::size_t i = 0; i < n; ++i) {
            const double logSurvival = std::log(survival[i]);
            const double factor = std::exp(-z_ * se[i] / (survival[i] * logSurvival));
            lower[i] = std::exp(logSurvival * factor);
            upper[i] = std::exp(logSurvival / factor);
        }
    }
}

// The same when many lives make c and the moves of ln S small for all of them; else nothing is done.
MILEHOLD_WIDE_LOOPS bool PointwiseLimits::logLogOfMany(std::span<const double> survival,
                                                       std::span<const double> se, std::span<double> lower,
                                                       std::span<double> upper) {
    const std::size_t n = survival.size();
    for (std::size_t i = 0; i < n; ++i)
        up_[i] = -std::log(survival[i]);
    for (std::size_t i = 0; i < n; ++i)
        down_[i] = z_ * se[i] / (survival[i] * up_[i]);
    bool small = true;
    for (std::size_t i = 0; i < n; ++i) // |ln S (e^c - 1)| < 2 c |ln S| for small c
        small &= down_[i] <= kSmall && 2 * down_[i] * up_[i] <= kSmall;
    if (!small)
        return false;
    for (std::size_t i = 0; i < n; ++i) {
        const double odd = oddPart(down_[i]);
        const double even = evenPart(down_[i]);
        down_[i] = -up_[i] * (even + odd);
        up_[i] = -up_[i] * (even - odd);
    }
    for (std::size_t i = 0; i < n; ++i) {
        upper[i] = survival[i] + survival[i] * (evenPart(up_[i]) + oddPart(up_[i]));
        lower[i] = survival[i] + survival[i] * (evenPart(down_[i]) + oddPart(down_[i]));
    }
    return true;
}

} // namespace milehold::core
