// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/counts.h"

#include <optional>
#include <span>
#include <vector>

namespace milehold::core {

/// Shapes assumed when nothing better is known: from no ageing to strong wear-out.
inline constexpr double kUsualShapes[] = {1, 1.5, 2, 3};

/// A Weibull life of an assumed shape, for groups with few comebacks or none.
struct AssumedShape {
    double shape = 1;
    std::optional<double>
        scale;             ///< (T/d)^(1/shape), T the sum of miles^shape watched; empty without comebacks
    double lowerScale = 0; ///< one-sided lower limit: (2T / chi-square of 2d + 2 degrees)^(1/shape)
};

/// Scale of the life for each shape.
/// Input:  one group's counts; shapes > 0; one-sided level in (0, 1). A comeback in an interval stands at its
/// beginning,
///         which makes the limit safe. Delayed entry counts the miles from entry on.
/// Errors: NotEstimable when nothing was watched over any distance; InvalidInput.
/// Source: Nelson 1985, J Quality Technology 17:140.
Result<std::vector<AssumedShape>>
assumedShapes(const Counts& counts, std::span<const double> shapes = kUsualShapes, double level = 0.95);

/// One-sided lower limit of survival at a mileage: the worst of the shapes, and which one that is.
struct WorstSurvival {
    double miles = 0;
    double lower = 0;
    double shape = 1;
};
WorstSurvival worstSurvival(std::span<const AssumedShape> shapes, double miles);

} // namespace milehold::core
