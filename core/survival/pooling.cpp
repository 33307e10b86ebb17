// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/pooling.h"

#include "core/survival/numeric.h"

#include <boost/math/distributions/gamma.hpp>
#include <boost/math/special_functions/digamma.hpp>
#include <Eigen/Dense>

#include <algorithm>
#include <cmath>

namespace milehold::core {

namespace {

using Point = Eigen::Vector3d; ///< ln shape, ln rate, ln spread
constexpr double kNoSpread = 1e-12;
constexpr double kLongestSum = 1e5;

struct Sums {
    double unit = 1;
    double comebacks = 0;
    double sumLog = 0; ///< of ln(miles / unit) over the comebacks
};

/// Exposure of a path and its derivative in ln shape.
struct Exposure {
    double value = 0, slope = 0;
};

Exposure exposureOf(const Counts& counts, double unit, double shape) {
    Exposure sum;
    const auto add = [&](double weight, double miles) {
        if (miles <= 0)
            return;
        const double y = std::log(miles / unit);
        const double term = weight * std::exp(shape * y);
        sum.value += term;
        sum.slope += term * shape * y;
    };
    for (std::size_t i = 0; i < counts.size(); ++i)
        add(counts.comebacks[i] + counts.left[i], counts.miles[i]);
    for (std::size_t i = 0; i < counts.entryMiles.size(); ++i)
        add(-counts.entered[i], counts.entryMiles[i]);
    return sum;
}

// Sum over j < d of ln(1 + j v) and its derivative in v; d need not be whole.
Exposure gammaSum(double d, double v) {
    Exposure sum;
    if (d == std::floor(d) && d <= kLongestSum) {
        for (double j = 1; j < d; ++j) {
            sum.value += std::log1p(j * v);
            sum.slope += j / (1 + j * v);
        }
        return sum;
    }
    const double a = 1 / v;
    sum.value = std::lgamma(a + d) - std::lgamma(a) - d * std::log(a);
    sum.slope = -a * a * (boost::math::digamma(a + d) - boost::math::digamma(a) - d / a);
    return sum;
}

struct Marginal {
    double value = 0;
    Point slope = Point::Zero();
};

// d ln m + sum ln(1 + j v) - (1/v + d) ln(1 + v m E): the gamma-Poisson likelihood in a form that stands at v
// = 0.
Marginal marginal(std::span<const Counts> paths, const Sums& sums, const Point& at, bool spreads) {
    const double shape = std::exp(at[0]), m = std::exp(at[1]), v = spreads ? std::exp(at[2]) : 0.0;
    Marginal out;
    out.value = sums.comebacks * at[0] + (shape - 1) * sums.sumLog - sums.comebacks * std::log(sums.unit);
    out.slope[0] = sums.comebacks + shape * sums.sumLog;
    for (const Counts& counts : paths) {
        const double d = counts.allComebacks();
        const Exposure e = exposureOf(counts, sums.unit, shape);
        const double mE = m * e.value;
        out.value += d * at[1];
        out.slope[1] += d;
        if (!spreads) {
            out.value -= mE;
            out.slope[0] -= m * e.slope;
            out.slope[1] -= mE;
            continue;
        }
        const Exposure g = gammaSum(d, v);
        const double log = std::log1p(v * mE);
        const double pull = (1 + d * v) / (1 + v * mE); // d of the last term by mE, negative
        out.value += g.value - (1 / v + d) * log;
        out.slope[0] -= pull * m * e.slope;
        out.slope[1] -= pull * mE;
        out.slope[2] += v * g.slope + log / v - pull * mE;
    }
    return out;
}

// Newton steps with the curvature from differences of the exact slopes. `size` 2: without spread.
Result<Point> climb(std::span<const Counts> paths, const Sums& sums, Point at, Eigen::Index size) {
    const bool spreads = size == 3;
    Marginal here = marginal(paths, sums, at, spreads);
    for (int k = 0; k < 200; ++k) {
        Eigen::MatrixXd curve(size, size);
        for (Eigen::Index j = 0; j < size; ++j) {
            Point up = at, down = at;
            up[j] += 1e-5;
            down[j] -= 1e-5;
            curve.col(j) =
                (marginal(paths, sums, up, spreads).slope - marginal(paths, sums, down, spreads).slope)
                    .head(size) /
                2e-5;
        }
        curve = -0.5 * (curve + curve.transpose()).eval();
        const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(curve);
        // Turned so that every direction climbs, and kept from leaping where the surface is flat.
        Eigen::VectorXd step = eigen.eigenvectors().transpose() * here.slope.head(size);
        for (Eigen::Index j = 0; j < size; ++j)
            step[j] /= std::max(std::abs(eigen.eigenvalues()[j]), 1e-10 * sums.comebacks);
        step = eigen.eigenvectors() * step;
        if (const double longest = step.cwiseAbs().maxCoeff(); longest > 1)
            step /= longest;
        const double promise = step.dot(here.slope.head(size));
        if (promise < 1e-19 * sums.comebacks)
            return at;
        bool climbed = false;
        for (int half = 0; half < 50 && !climbed; ++half, step *= 0.5) {
            Point next = at;
            next.head(size) += step;
            const Marginal there = marginal(paths, sums, next, spreads);
            climbed = std::isfinite(there.value) &&
                      (there.value > here.value || (promise < 1e-9 && there.value > here.value - 1e-9));
            if (!climbed)
                continue;
            at = next;
            here = there;
        }
        if (!climbed)
            return promise < 1e-8 ? Result<Point>(at)
                                  : Result<Point>(fail(ErrorCode::NoConvergence, "pooling did not settle"));
    }
    return fail(ErrorCode::NoConvergence, "pooling did not settle");
}

Result<Sums> sumsOf(std::span<const Counts> paths) {
    if (paths.size() < 2)
        return fail(ErrorCode::InvalidInput, "pooling takes at least two paths");
    Sums sums;
    double logs = 0, largest = 0, largestComeback = 0, least = HUGE_VAL, positive = 0;
    for (const Counts& counts : paths) {
        sums.comebacks += counts.allComebacks();
        largest = std::max(largest, counts.longestWatched());
        for (std::size_t i = 0; i < counts.size(); ++i) {
            if (counts.comebacks[i] == 0)
                continue;
            // A comeback at 0 is within the first mile; its own likelihood is that of one at the mile's end.
            const double miles = counts.miles[i] > 0 ? counts.miles[i] : 1.0;
            logs += counts.comebacks[i] * std::log(miles);
            positive += counts.comebacks[i];
            largestComeback = std::max(largestComeback, miles);
            least = std::min(least, miles);
        }
    }
    if (!(sums.comebacks > 0))
        return fail(ErrorCode::NotEstimable, "no comeback on any of the paths");
    if (least == largestComeback && largest <= largestComeback)
        return fail(ErrorCode::NotEstimable,
                    "all comebacks fall at one mileage and nothing was watched beyond it");
    sums.unit = std::exp(logs / positive);
    sums.sumLog = logs - positive * std::log(sums.unit);
    return sums;
}

} // namespace

Result<Pooling> pooledRates(std::span<const Counts> paths) {
    const Result<Sums> sums = sumsOf(paths);
    if (!sums)
        return failureOf(sums);
    double exposure = 0;
    for (const Counts& counts : paths)
        exposure += exposureOf(counts, sums->unit, 1.5).value;
    const Result<Point> common =
        climb(paths, *sums, Point(std::log(1.5), std::log(sums->comebacks / exposure), 0), 2);
    if (!common)
        return failureOf(common);

    // At no spread the marginal likelihood rises with it only if the paths differ more than chance makes
    // them.
    double excess = 0;
    for (const Counts& counts : paths) {
        const double expected =
            std::exp((*common)[1]) * exposureOf(counts, sums->unit, std::exp((*common)[0])).value;
        excess += std::pow(counts.allComebacks() - expected, 2) - counts.allComebacks();
    }
    Point best = *common;
    bool spreads = false;
    if (excess > 0) {
        const Result<Point> spread = climb(paths, *sums, Point(best[0], best[1], std::log(0.1)), 3);
        if (!spread)
            return fail(ErrorCode::NotEstimable, "too few comebacks to tell how far the paths differ");
        spreads = std::exp((*spread)[2]) > kNoSpread &&
                  marginal(paths, *sums, *spread, true).value > marginal(paths, *sums, *common, false).value;
        if (spreads)
            best = *spread;
    }
    Pooling pooling;
    pooling.shape = std::exp(best[0]);
    pooling.unit = sums->unit;
    pooling.rate = std::exp(best[1]);
    pooling.spread = spreads ? std::exp(best[2]) : 0.0;
    pooling.logMarginal = marginal(paths, *sums, best, spreads).value;
    for (const Counts& counts : paths) {
        const double e = exposureOf(counts, pooling.unit, pooling.shape).value;
        pooling.paths.push_back({counts.allComebacks(), e, 1 / (1 + pooling.spread * pooling.rate * e)});
    }
    return pooling;
}

PooledSurvival pooledSurvival(const Pooling& pooling, std::size_t path, double miles, double level) {
    const PooledPath& own = pooling.paths[path];
    const double x = miles > 0 ? std::pow(miles / pooling.unit, pooling.shape) : 0.0;
    PooledSurvival out;
    out.miles = miles;
    if (own.exposure > 0)
        out.own = std::exp(-own.comebacks / own.exposure * x);
    const double tail = 0.5 * (1 - level);
    if (pooling.spread == 0) {
        // One rate for all: the gamma limits of all comebacks over all exposure, given that the paths are alike.
        double comebacks = 0, exposure = 0;
        for (const PooledPath& one : pooling.paths) {
            comebacks += one.comebacks;
            exposure += one.exposure;
        }
        out.survival = std::exp(-pooling.rate * x);
        out.lower = std::exp(-x * chiSquareQuantile(1 - tail, 2 * comebacks + 2) / (2 * exposure));
        out.upper = std::exp(-x * chiSquareQuantile(tail, 2 * comebacks) / (2 * exposure));
        return out;
    }
    const double a = 1 / pooling.spread + own.comebacks;
    const double b = 1 / (pooling.spread * pooling.rate) + own.exposure;
    out.survival = std::exp(-a * std::log1p(x / b));
    const boost::math::gamma_distribution<double> rate(a, 1 / b);
    out.lower = std::exp(-x * quantile(complement(rate, tail)));
    out.upper = std::exp(-x * quantile(rate, tail));
    return out;
}

} // namespace milehold::core
