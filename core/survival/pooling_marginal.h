// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/counts.h"

#include <Eigen/Dense>

#include <cstdint>
#include <span>

/// What pooling and its limits share: the marginal likelihood of common shape, mean rate and spread.
namespace milehold::core::pooling {

using Point = Eigen::Vector3d; ///< ln shape, ln rate, ln spread

struct Sums {
    double unit = 1;
    double comebacks = 0;
    double sumLog = 0; ///< of ln(miles / unit) over the comebacks
};

/// Exposure of a path and its derivative in ln shape.
struct Exposure {
    double value = 0, slope = 0;
};
Exposure exposureOf(const Counts& counts, double unit, double shape);

struct Marginal {
    double value = 0;
    Point slope = Point::Zero();
};

/// The log likelihood with the paths' rates integrated out; without `spreads` all paths have one rate and the
/// third coordinate is not read.
Marginal marginal(std::span<const Counts> paths, const Sums& sums, const Point& at, bool spreads);

/// Less its second derivatives in the first `size` coordinates, from differences of the exact slopes.
Eigen::MatrixXd curvature(std::span<const Counts> paths, const Sums& sums, const Point& at, bool spreads,
                          Eigen::Index size);

/// Which coordinates a climb moves: all, all but a given spread, or shape and rate where there is no spread.
enum class Free : std::uint8_t { All, GivenSpread, NoSpread };

/// The point of the largest marginal likelihood, by Newton steps.   Errors: NoConvergence.
Result<Point> climb(std::span<const Counts> paths, const Sums& sums, Point at, Free free);

} // namespace milehold::core::pooling
