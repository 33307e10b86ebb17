// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/counts.h"

#include <optional>
#include <span>
#include <vector>

namespace milehold::core {

/// One path among like ones. Mileages enter as (miles / unit)^shape.
struct PooledPath {
    double comebacks = 0;
    double exposure = 0; ///< E: sum of that power over the miles watched
    double weightFromOthers =
        0; ///< share of the pooled rate that comes from the other paths, 1 where it has no data
};

/// One thing that the hyper-parameters may be, with its weight among all of them.
struct PooledGuess {
    double weight = 0;
    double shape = 1, rate = 0, spread = 0;
    std::vector<double> exposure; ///< of each path at this shape
};

/// Partial pooling of like paths: Weibull lives of a common shape, whose rates are spread among the paths as
/// a gamma distribution with mean `rate` and variance rate^2 * spread.
struct Pooling {
    double shape = 1;
    double unit = 1; ///< miles; the geometric mean of the comebacks
    double rate = 0; ///< comebacks per (miles / unit)^shape
    double spread =
        0; ///< 1 / a of the gamma distribution; 0: the paths do not differ beyond chance, all are pooled
    double logMarginal = 0; ///< log marginal likelihood of densities in the unit of the table
    std::vector<PooledPath> paths;
    std::vector<PooledGuess> guesses; ///< what limits are mixed over; weights sum to 1
};

/// Empirical Bayes estimate by maximum marginal likelihood.
/// Input:  counts of at least two paths (a path without comebacks takes part).
/// Errors: InvalidInput for fewer than two paths; NotEstimable without comebacks, or when they all stand at
/// the largest
///         mileage.
/// Source: Robbins 1956; Morris 1983, JASA 78:47; the gamma-Poisson form of Gelman et al., Bayesian Data
/// Analysis.
Result<Pooling> pooledRates(std::span<const Counts> paths);

/// Predictive survival of a path: ((b + E) / (b + E + x))^(a + d), x = (miles / unit)^shape, at shape, rate
/// and spread as estimated. Its limits count that those are not known: they are quantiles of what the path's
/// survival may be, mixed over all that shape, rate and spread may be given the lives of all paths (see
/// pooling_posterior.h). In a simulation of 3 to 6 paths of 15 lives whose rates differed they held the truth
/// in 94 to 98 of 100 at 95 %; limits that took the estimates for known held it in 80 to 92. Beside it what
/// its own lives alone say with the common shape.
struct PooledSurvival {
    double miles = 0;
    double survival = 1, lower = 1, upper = 1;
    std::optional<double> own; ///< exp(-d/E x); empty where the path has no exposure
};
PooledSurvival pooledSurvival(const Pooling& pooling, std::size_t path, double miles, double level);

} // namespace milehold::core
