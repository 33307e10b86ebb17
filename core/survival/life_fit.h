// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/life_likelihood.h"

#include <array>
#include <optional>
#include <string>

namespace milehold::core {

/// A life distribution fitted by maximum likelihood.
///
/// `location` and `scatter` are those of ln T: Weibull scale = exp(location), shape = 1 / scatter;
/// exponential mean = exp(location), scatter 1. `covariance` is the inverse of the observed information of
/// (location, ln scatter); for the exponential only its first entry is used.
struct LifeFit {
    LifeModel model = LifeModel::Weibull;
    double location = 0;
    double scatter = 1;
    std::array<std::array<double, 2>, 2> covariance{};
    double logLikelihood = 0;
    double lives = 0; ///< sums of weights
    double comebacks = 0;

    double shape() const { return 1 / scatter; }
    double scale() const;
    /// Covariance of (ln scale, ln shape) for Weibull: the sign of the second parameter turns.
    std::array<std::array<double, 2>, 2> covarianceOfShape() const;
    /// Parameters estimated: 2, for the exponential 1.
    int parameters() const { return model == LifeModel::Exponential ? 1 : 2; }
};

/// Why the likelihood of a group has no maximum, or nothing when one can exist: no comeback, or every
/// comeback fits one single mileage, or every comeback was found at a first look no later than those that
/// hold. Exact but for delayed entry, where the iteration itself must tell.   Cost: O(h).
std::optional<std::string> reasonForNoMaximum(const LifeData& data, LifeModel model);

/// Maximum likelihood by Newton steps with line search, after the existence rule.
/// Errors: NotEstimable with the reason when there is no maximum; NoConvergence.
/// Source: Meeker & Escobar 1998, ch. 8 and 11; existence as in Burridge 1981, JRSS B 43:41.
Result<LifeFit> fitLife(const LifeData& data, LifeModel model);

/// Mileage by which the share p has failed, with limits; a limit that does not exist is empty.
struct LifeQuantile {
    double p = 0.5;
    std::optional<double> miles, lower, upper;
};

/// Limits t exp(-+ z se of ln t).   Input: p and level in (0, 1).
LifeQuantile waldQuantile(const LifeFit& fit, double p, double level);

/// Limits by the likelihood ratio: the mileages at which twice the drop of the profile likelihood reaches the
/// chi-square quantile. Empty on a side where it never does within the range of a double. Source: Meeker &
/// Escobar 1998, section 8.4.2.
LifeQuantile profileQuantile(const LifeData& data, const LifeFit& fit, double p, double level);

/// S at a mileage (>= 0) with limits, z -+ deviate * se(z) of the standardised logarithm.
/// Source: Meeker & Escobar 1998, section 8.4.3.
struct LifeSurvival {
    double miles = 0;
    double survival = 1, se = 0, lower = 1, upper = 1;
};
LifeSurvival survivalAt(const LifeFit& fit, double miles, double level);

} // namespace milehold::core
