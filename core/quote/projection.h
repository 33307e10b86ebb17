// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/survival/counts.h"
#include "core/survival/life_fit.h"

#include <optional>
#include <vector>

namespace milehold::core {

/// How a curve may go on where too few are watched: no observation but a model, and said so wherever it is
/// shown.
struct QuoteProjection {
    LifeFit fit;
    double level = 0.95;
    double from = 0, to = 0;                           ///< where it is needed, and how far it is drawn
    std::vector<double> miles, survival, lower, upper; ///< same length, from `from` to `to`

    /// Empty before `from` and beyond `to`.
    std::optional<LifeSurvival> at(double miles) const;
};

/// A Weibull life fitted to all of a path's repairs, drawn on from where fewer than five are watched.
///
/// Input:  counts of the known reading, 0 <= from < to.
/// Errors: NotEstimable with the reason: fewer than five comebacks, or no maximum of the likelihood.
/// Source: Meeker & Escobar 1998, ch. 8 (the fit and its limits); the floor of five comebacks is our own.
Result<QuoteProjection> projectOn(const Counts& counts, double from, double to, double level);

} // namespace milehold::core
