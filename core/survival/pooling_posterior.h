// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/pooling.h"
#include "core/survival/pooling_marginal.h"

#include <span>
#include <vector>

namespace milehold::core::pooling {

/// What shape, rate and spread may be given the paths, as weighted points whose weights sum to 1: even priors
/// of ln shape and ln rate, a half-Cauchy prior of scale 1 (cut at 5) for the root of the spread, which is
/// the coefficient of variation of the rates. For each of a row of spreads shape and rate are taken at
/// Gauss-Hermite points around their largest likelihood. Input:  `common` is the climb without spread, to
/// begin from. Spreads at which no climb settles are left out. Source: Gelman 2006, Bayesian Anal 1:515 (the
/// prior); Naylor & Smith 1982, Appl Stat 31:214 (the points).
std::vector<PooledGuess> guessesOf(std::span<const Counts> paths, const Sums& sums, const Point& common);

/// The p-quantile of a path's cumulative hazard at a mileage, mixed over the guesses; without guesses, of the
/// gamma distribution at the rate and spread as estimated.
double hazardQuantile(const Pooling& pooling, std::size_t path, double miles, double p);

} // namespace milehold::core::pooling
