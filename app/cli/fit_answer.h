// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/session.h"
#include "core/survival/assumed_shape.h"
#include "core/survival/life_average.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace milehold::cli {

struct FitRequest {
    core::LifeModel model = core::LifeModel::Weibull;
    std::vector<double> shares;
    double level = 0.95;
    bool profile = true;
    std::vector<double> at;
    bool points = false;         ///< of the probability plot
    std::vector<double> assumed; ///< shapes
};

/// Everything that one group answers.
struct FitAnswer {
    std::string name;
    double lives = 0, comebacks = 0;
    std::optional<std::string> error;
    core::LifeFit fit;
    std::vector<core::LifeQuantile> life;
    double neverHeld = 0;                    ///< share of the lives that came back at 0
    std::shared_ptr<const FitAnswer> ofHeld; ///< the same of the others alone; empty where all held
    std::vector<core::LifeSurvival> at;
    std::optional<core::AveragedSurvival> averaged;
    std::vector<core::PlotPoint> points;
    std::vector<core::AssumedShape> assumed; ///< with one-sided limits; for groups without a fit too
    std::vector<core::WorstSurvival> worst;  ///< one a mileage asked for
};

const char* nameOf(core::LifeModel model);

/// Writes the answer in the form of the session.
void answerFits(Session& session, const std::vector<FitAnswer>& groups, const FitRequest& request);

} // namespace milehold::cli
