// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/pooling_posterior.h"

#include "core/survival/numeric.h"

#include <boost/math/special_functions/gamma.hpp>
#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace milehold::core::pooling {

namespace {

constexpr int kSpreads = 16;
constexpr double kLargestRoot = 5; ///< of the spread: rates that vary five times as much as they are
constexpr double kLeastWeight = 1e-7;

// Five points and weights of Gauss-Hermite for a normal density.
constexpr double kNodes[] = {-2.8569700138728056, -1.3556261799742659, 0, 1.3556261799742659,
                             2.8569700138728056};
constexpr double kWeights[] = {0.011257411327720689, 0.22207592200561265, 0.53333333333333333,
                               0.22207592200561265, 0.011257411327720689};

// P(hazard <= h) of one guess: its rate is gamma distributed given the path's own comebacks.
double chanceBelow(const PooledGuess& guess, const PooledPath& path, double exposure, double x, double h) {
    const double a = 1 / guess.spread + path.comebacks;
    const double b = 1 / (guess.spread * guess.rate) + exposure;
    return x > 0 ? boost::math::gamma_p(a, b * h / x) : 1.0;
}

double gammaQuantile(double a, double p) {
    return a > 0 ? boost::math::gamma_p_inv(a, p) : 0.0;
}

// As estimated, nothing mixed.
double plainQuantile(const Pooling& pooling, const PooledPath& own, double x, double p) {
    if (pooling.spread > 0)
        return x * gammaQuantile(1 / pooling.spread + own.comebacks, p) /
               (1 / (pooling.spread * pooling.rate) + own.exposure);
    // One rate for all: the limits of all comebacks over all exposure, given that the paths are alike.
    double comebacks = 0, exposure = 0;
    for (const PooledPath& one : pooling.paths) {
        comebacks += one.comebacks;
        exposure += one.exposure;
    }
    return x * chiSquareQuantile(p, 2 * comebacks + (p > 0.5 ? 2 : 0)) / (2 * exposure);
}

} // namespace

std::vector<PooledGuess> guessesOf(std::span<const Counts> paths, const Sums& sums, const Point& common) {
    const double most =
        2 / std::numbers::pi * std::atan(kLargestRoot); // of the prior, up to the largest root
    std::vector<PooledGuess> guesses;
    std::vector<double> logs; // of the weights
    Point from = common;
    for (int s = 0; s < kSpreads; ++s) {
        // Points that share the prior evenly.
        const double root = std::tan(std::numbers::pi / 2 * most * (s + 0.5) / kSpreads);
        from[2] = 2 * std::log(root);
        const Result<Point> top = climb(paths, sums, from, Free::GivenSpread);
        if (!top)
            continue;
        from = *top;
        const Eigen::LLT<Eigen::MatrixXd> factor(curvature(paths, sums, *top, true, 2));
        if (factor.info() != Eigen::Success)
            continue;
        // Steps of this times z have the covariance that the likelihood has at its top.
        const Eigen::Matrix2d spreadOut = factor.matrixU().solve(Eigen::Matrix2d::Identity());
        const double volume = std::log(spreadOut.determinant());
        for (std::size_t i = 0; i < std::size(kNodes); ++i)
            for (std::size_t j = 0; j < std::size(kNodes); ++j) {
                const Eigen::Vector2d z(kNodes[i], kNodes[j]);
                Point at = *top;
                at.head<2>() += spreadOut * z;
                const double height = marginal(paths, sums, at, true).value;
                logs.push_back(height + 0.5 * z.squaredNorm() + volume + std::log(kWeights[i] * kWeights[j]));
                guesses.push_back({0, std::exp(at[0]), std::exp(at[1]), std::exp(at[2]), {}});
            }
    }
    if (guesses.empty())
        return guesses;
    const double highest = *std::max_element(logs.begin(), logs.end());
    double sum = 0;
    for (std::size_t k = 0; k < guesses.size(); ++k)
        sum += guesses[k].weight = std::exp(logs[k] - highest);
    std::erase_if(guesses, [sum](const PooledGuess& guess) { return !(guess.weight > kLeastWeight * sum); });
    sum = 0;
    for (const PooledGuess& guess : guesses)
        sum += guess.weight;
    for (PooledGuess& guess : guesses) {
        guess.weight /= sum;
        for (const Counts& counts : paths)
            guess.exposure.push_back(exposureOf(counts, sums.unit, guess.shape).value);
    }
    return guesses;
}

double hazardQuantile(const Pooling& pooling, std::size_t path, double miles, double p) {
    const PooledPath& own = pooling.paths[path];
    const auto powerOf = [&](double shape) {
        return miles > 0 ? std::pow(miles / pooling.unit, shape) : 0.0;
    };
    const double plain = plainQuantile(pooling, own, powerOf(pooling.shape), p);
    if (pooling.guesses.empty() || !(miles > 0))
        return plain;
    const auto excess = [&](double logHazard) {
        double chance = 0;
        for (const PooledGuess& guess : pooling.guesses)
            chance += guess.weight * chanceBelow(guess, own, guess.exposure[path], powerOf(guess.shape),
                                                 std::exp(logHazard));
        return chance - p;
    };
    double low = std::log(std::max(plain, 1e-12));
    double high = low;
    constexpr double kLeast = -80, kMost = 80; // hazards beyond these are none and sure
    while (low > kLeast && excess(low) > 0)
        low -= 1;
    while (high < kMost && excess(high) < 0)
        high += 1;
    if (low <= kLeast)
        return 0;
    if (high >= kMost || low == high)
        return std::exp(high);
    std::uintmax_t steps = 100;
    const auto bracket = boost::math::tools::toms748_solve(
        excess, low, high, [](double a, double b) { return b - a < 1e-10; }, steps);
    return std::exp(0.5 * (bracket.first + bracket.second));
}

} // namespace milehold::core::pooling
