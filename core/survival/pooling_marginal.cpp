// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/pooling_marginal.h"

#include <boost/math/special_functions/digamma.hpp>

#include <algorithm>
#include <cmath>

namespace milehold::core::pooling {

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

namespace {

constexpr double kLongestSum = 1e5;

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

} // namespace

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

Eigen::MatrixXd curvature(std::span<const Counts> paths, const Sums& sums, const Point& at, bool spreads,
                          Eigen::Index size) {
    Eigen::MatrixXd curve(size, size);
    for (Eigen::Index j = 0; j < size; ++j) {
        Point up = at, down = at;
        up[j] += 1e-5;
        down[j] -= 1e-5;
        curve.col(j) = (marginal(paths, sums, up, spreads).slope - marginal(paths, sums, down, spreads).slope)
                           .head(size) /
                       2e-5;
    }
    return -0.5 * (curve + curve.transpose()).eval();
}

Result<Point> climb(std::span<const Counts> paths, const Sums& sums, Point at, Free free) {
    const bool spreads = free != Free::NoSpread;
    const Eigen::Index size = free == Free::All ? 3 : 2;
    Marginal here = marginal(paths, sums, at, spreads);
    for (int k = 0; k < 200; ++k) {
        const Eigen::MatrixXd curve = curvature(paths, sums, at, spreads, size);
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

} // namespace milehold::core::pooling
