// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/beta_quantile.h"

#include "core/survival/numeric.h"

#include <boost/math/special_functions/beta.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace milehold::core {

namespace {

namespace policies = boost::math::policies;

// Trouble inside an incomplete beta comes back as a number to be looked at, not as an exception.
using Quiet =
    policies::policy<policies::domain_error<policies::ignore_error>,
                     policies::pole_error<policies::ignore_error>,
                     policies::overflow_error<policies::ignore_error>,
                     policies::evaluation_error<policies::ignore_error>, policies::promote_double<false>>;

constexpr double kFine = 1e-10;  // error of the log odds that needs no polish
constexpr double kSmallest = 24; // below, not even the polygamma series are worth their terms

// Cumulants of ln of a gamma variable with shape x >= kSmallest: the digamma function less ln x, then the
// trigamma function and so on, by their asymptotic series (Abramowitz & Stegun 6.3.18, 6.4.11).
struct LogGammaCumulants {
    double lessLog;
    double order[7]; // orders 2 to 8
};

LogGammaCumulants logGammaCumulants(double x) {
    const double y = 1 / x;
    const double q = y * y;
    LogGammaCumulants k;
    k.lessLog = -y / 2 - q * (1.0 / 12 - q * (1.0 / 120 - q * (1.0 / 252 - q / 240)));
    k.order[0] = y * (1 + y / 2 + q * (1.0 / 6 - q * (1.0 / 30 - q * (1.0 / 42 - q / 30))));
    k.order[1] = -q * (1 + y + q * (1.0 / 2 - q * (1.0 / 6 - q * (1.0 / 6 - q * 3 / 10))));
    k.order[2] = q * y * (2 + 3 * y + q * (2 - q * (1 - q * (4.0 / 3 - 3 * q))));
    k.order[3] = -q * q * (6 + 12 * y + q * (10 - q * (7 - 12 * q)));
    k.order[4] = q * q * y * (24 + 60 * y + q * (60 - q * (56 - 120 * q)));
    k.order[5] = -q * q * q * (120 + 360 * y + q * (420 - q * 504));
    k.order[6] = q * q * q * y * (720 + 2520 * y + q * (3360 - q * 5040));
    return k;
}

double shareOf(double logOdds) {
    return 1 / (1 + std::exp(-logOdds));
}

// P(X < x) or P(X > x), and its derivative by the log odds of x.
struct Chance {
    double value = 0;
    double density = 0;
};

Chance chanceOf(const Beta& beta, double x, double oneLess, bool upper) {
    if (beta.b == 0)
        return {upper ? 1.0 : 0.0, 0};
    if (beta.a == 0)
        return {upper ? 0.0 : 1.0, 0};
    Chance chance;
    // Boost reads 1 - x from x: near 1 the small side goes in as the argument.
    if (x < 0.5) {
        chance.value = upper ? boost::math::ibetac(beta.a, beta.b, x, Quiet())
                             : boost::math::ibeta(beta.a, beta.b, x, Quiet());
        chance.density = boost::math::ibeta_derivative(beta.a, beta.b, x, Quiet()) * x * oneLess;
    } else {
        chance.value = upper ? boost::math::ibeta(beta.b, beta.a, oneLess, Quiet())
                             : boost::math::ibetac(beta.b, beta.a, oneLess, Quiet());
        chance.density = boost::math::ibeta_derivative(beta.b, beta.a, oneLess, Quiet()) * x * oneLess;
    }
    return chance;
}

double inverse(const Beta& beta, double p, bool upper) {
    return upper ? boost::math::ibetac_inv(beta.a, beta.b, p, Quiet())
                 : boost::math::ibeta_inv(beta.a, beta.b, p, Quiet());
}

} // namespace

BetaQuantile::BetaQuantile(double p, Tail tail)
    : p_(p), tail_(tail), expansion_(tail == Tail::Lower ? normalQuantile(p) : -normalQuantile(p)) {}

BetaQuantile::LogOdds BetaQuantile::expanded(const Beta& beta) const {
    if (!(beta.a >= kSmallest && beta.b >= kSmallest))
        return {0, std::numeric_limits<double>::infinity()};
    const LogGammaCumulants a = logGammaCumulants(beta.a);
    const LogGammaCumulants b = logGammaCumulants(beta.b);
    const double mean = std::log(beta.a / beta.b) + a.lessLog - b.lessLog;
    const double variance = a.order[0] + b.order[0];
    const double deviation = std::sqrt(variance);
    const double perDeviation = 1 / deviation;
    std::array<double, CornishFisher::kCumulants> cumulants{};
    double scale = perDeviation * perDeviation;
    for (std::size_t i = 0; i < cumulants.size(); ++i) {
        scale *= perDeviation;
        cumulants[i] =
            (i % 2 == 0 ? a.order[i + 1] - b.order[i + 1] : a.order[i + 1] + b.order[i + 1]) * scale;
    }
    const CornishFisher::Value value = expansion_(cumulants);
    return {mean + deviation * value.quantile, deviation * std::fabs(value.lastOrder)};
}

// Halley steps on the log odds from a good start; the mixture of a distribution with itself is that
// distribution.
double BetaQuantile::polished(const Beta& first, const Beta& second, double logOdds) const {
    const bool same = first.a == second.a && first.b == second.b;
    const bool upper = tail_ == Tail::Upper;
    for (int step = 0; step < 20; ++step) {
        const double x = shareOf(logOdds);
        const double oneLess = shareOf(-logOdds);
        Chance chance = chanceOf(first, x, oneLess, upper);
        double slope = chance.density * (first.a * oneLess - first.b * x);
        if (!same) {
            const Chance other = chanceOf(second, x, oneLess, upper);
            slope = (slope + other.density * (second.a * oneLess - second.b * x)) / 2;
            chance.value = (chance.value + other.value) / 2;
            chance.density = (chance.density + other.density) / 2;
        }
        const double newton = (chance.value - p_) / (upper ? -chance.density : chance.density);
        const double bend = std::clamp(newton * slope / (2 * chance.density), -0.5, 0.5);
        const double move = newton / (1 - bend);
        if (!std::isfinite(move) || std::fabs(move) > 5)
            break;
        logOdds -= move;
        if (std::fabs(move) < 1e-5)
            return shareOf(logOdds); // the next step would be of the order of its cube
    }
    return std::numeric_limits<double>::quiet_NaN();
}

double BetaQuantile::operator()(const Beta& beta) const {
    if (beta.b == 0)
        return 1;
    if (beta.a == 0)
        return 0;
    const LogOdds start = expanded(beta);
    if (start.error < kFine)
        return shareOf(start.value);
    if (start.error < 0.1) {
        const double x = polished(beta, beta, start.value);
        if (!std::isnan(x))
            return x;
    }
    const double x = inverse(beta, p_, tail_ == Tail::Upper);
    return std::isfinite(x) ? std::clamp(x, 0.0, 1.0) : tail_ == Tail::Upper ? 1.0 : 0.0;
}

double BetaQuantile::ofEvenMixture(const Beta& first, const Beta& second) const {
    const bool upper = tail_ == Tail::Upper;
    // A point takes half of the chance at once; what is left is a quantile of the other distribution at 2 p.
    for (const auto& [one, other] : {std::pair(first, second), std::pair(second, first)}) {
        const bool isOne = one.b == 0;
        const bool isZero = one.a == 0 && !isOne;
        if (isOne && upper)
            return 1;
        if (isZero && !upper)
            return 0;
        if (isOne || isZero)
            return BetaQuantile(2 * p_, tail_)(other);
    }
    const double q1 = (*this)(first);
    const double q2 = (*this)(second);
    double low = std::min(q1, q2);
    double high = std::max(q1, q2);
    if (low == high)
        return low;
    const double start = (low + high) / 2;
    const double x = polished(first, second, std::log(start / (1 - start)));
    if (x >= low && x <= high)
        return x;
    for (int halving = 0; halving < 60; ++halving) {
        const double middle = (low + high) / 2;
        const double chance = (chanceOf(first, middle, 1 - middle, upper).value +
                               chanceOf(second, middle, 1 - middle, upper).value) /
                              2;
        ((chance < p_) == upper ? high : low) = middle;
    }
    return (low + high) / 2;
}

} // namespace milehold::core
