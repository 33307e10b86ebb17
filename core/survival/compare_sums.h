// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <Eigen/Dense>

#include <cstddef>
#include <optional>

namespace milehold::core::compare_sums {

/// A variance, or a pivot of a correlation matrix, below this share of its scale is rounding: nothing can
/// vary.
inline constexpr double kSingular = 1e-13;

/// What a comparison adds up over mileages: weighted comebacks of each group, what was expected, the
/// variance.
struct Sums {
    explicit Sums(std::size_t groups);
    void clear();

    /// Groups that have anything expected, less one; never negative.
    double df() const;

    /// U' V^-1 U over the groups that have anything expected but the largest, whose part follows from the
    /// others'. 0 when df is; empty when the variance is singular.
    std::optional<double> chiSquare() const;

    Eigen::VectorXd observed;
    Eigen::VectorXd expected;
    Eigen::MatrixXd variance;
};

} // namespace milehold::core::compare_sums
