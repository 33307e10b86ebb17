// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/money.h"
#include "core/quote/path_evidence.h"

#include <optional>
#include <string>

namespace milehold::core {

/// What a path costs for the quiet distance that may be expected of it, within a distance that was watched.
///
/// Expected quiet distance is the mean of min(life, within), the area under the curve: what a repair runs
/// after `within` does not count, so that paths are set side by side over the same stretch and nothing is
/// foreseen.
struct QuietCost {
    double within = 0;           ///< in the unit
    std::optional<double> quiet; ///< of `within`, expected; empty before the first comeback
    double quietLower = 0, quietUpper = 0;
    /// The price for each 1,000 of the unit run quietly, in minor units; `eachLower` belongs to `quietUpper`.
    std::optional<double> each;
    double eachLower = 0, eachUpper = 0;
};

/// The cost, or in words why there is none. The limits are the areas under the two exact limits of the curve:
/// wider than they need be, as both limits are taken to be off on one side all along.
///
/// Errors: NotEstimable with the reason: no price, fewer than five repairs, or fewer than five watched at
/// `within`. Source: Irwin 1949, J Hyg 47:188; Royston & Parmar 2013, BMC Med Res Methodol 13:152 (the mean);
/// the limits are our own, their coverage is proved by simulation.
Result<QuietCost> quietCost(const WatchedSet& watched, double within, Money price);

} // namespace milehold::core
