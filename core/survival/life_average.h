// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/life_fit.h"

#include <optional>
#include <span>
#include <vector>

namespace milehold::core {

/// Akaike's criterion corrected for small samples, with comebacks as the sample size: -2 ln L + 2k +
/// 2k(k+1)/(d-k-1). Empty when d <= k + 1, where the correction has no meaning. Source: Hurvich & Tsai 1989,
/// Biometrika 76:297; Burnham & Anderson 2002, section 7.4 (comebacks as n).
std::optional<double> correctedAic(const LifeFit& fit);

struct WeightedFit {
    LifeFit fit;
    double weight = 0; ///< Akaike weight, sums to 1
};

/// Survival averaged over models: S = sum of weight * S of the model; se = sum of weight * sqrt(se^2 +
/// (S_model - S)^2); limits on the logit scale, so that they stay inside (0, 1). Source: Burnham & Anderson
/// 2002, section 4.3 (unconditional variance).
struct AveragedSurvival {
    std::vector<WeightedFit> models;
    std::vector<LifeSurvival> at;
};

/// Averages those of the three models that can be fitted and have a corrected criterion.
/// Errors: NotEstimable when no model can be fitted or there are too few comebacks for the criterion.
Result<AveragedSurvival> averagedSurvival(const LifeData& data, std::span<const double> miles, double level);

/// A point of the probability plot: the mileage of comebacks and the share failed half-way up its step, with
/// the coordinate in which the model is a straight line over ln(miles). Source: Meeker & Escobar 1998,
/// section 6.4.
struct PlotPoint {
    double miles = 0;
    double failed = 0;
    double quantile = 0;
};
std::vector<PlotPoint> probabilityPlot(const Counts& counts, LifeModel model);

} // namespace milehold::core
