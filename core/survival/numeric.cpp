// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/numeric.h"

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/normal.hpp>

#include <cmath>
#include <numbers>

namespace milehold::core {

namespace {

// From here on the tail is near or below the smallest doubles' reach, so the ratio comes from its own
// expansion.
constexpr double kFarTail = 8.0;
const double kHalfLogTwoPi = 0.5 * std::log(2.0 * std::numbers::pi);

// phi(z) / tail(z) = z + 1/(z + 2/(z + 3/(z + ...))), evaluated from the far end.
double hazardByFraction(double z) {
    double tail = z;
    for (int k = 60; k >= 1; --k)
        tail = z + k / tail;
    return tail;
}

} // namespace

double normalTail(double z) {
    return 0.5 * std::erfc(z / std::numbers::sqrt2);
}

double logNormalTail(double z) {
    if (z < -1)
        return std::log1p(-normalTail(-z));
    if (z < kFarTail)
        return std::log(normalTail(z));
    return -0.5 * z * z - kHalfLogTwoPi - std::log(hazardByFraction(z));
}

double normalHazard(double z) {
    if (z >= kFarTail)
        return hazardByFraction(z);
    return std::exp(-0.5 * z * z - kHalfLogTwoPi) / normalTail(z);
}

double normalQuantile(double p) {
    return boost::math::quantile(boost::math::normal_distribution<double>(), p);
}

double twoSidedDeviate(double level) {
    return boost::math::quantile(complement(boost::math::normal_distribution<double>(), 0.5 * (1.0 - level)));
}

double twoSidedP(double z) {
    return std::erfc(std::abs(z) / std::numbers::sqrt2);
}

double chiSquareTail(double x, double df) {
    if (!(x > 0))
        return 1.0;
    return boost::math::cdf(complement(boost::math::chi_squared_distribution<double>(df), x));
}

double chiSquareQuantile(double p, double df) {
    return boost::math::quantile(boost::math::chi_squared_distribution<double>(df), p);
}

} // namespace milehold::core
