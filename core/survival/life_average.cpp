// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/life_average.h"

#include "core/survival/numeric.h"

#include <algorithm>
#include <cmath>

namespace milehold::core {

std::optional<double> correctedAic(const LifeFit& fit) {
    const double k = fit.parameters();
    const double left = fit.comebacks - k - 1;
    if (!(left > 0))
        return std::nullopt;
    return -2 * fit.logLikelihood + 2 * k + 2 * k * (k + 1) / left;
}

Result<AveragedSurvival> averagedSurvival(const LifeData& data, std::span<const double> miles, double level) {
    AveragedSurvival result;
    std::vector<double> criteria;
    for (const LifeModel model : {LifeModel::Weibull, LifeModel::Lognormal, LifeModel::Exponential}) {
        const auto fit = fitLife(data, model);
        if (!fit)
            continue;
        const auto criterion = correctedAic(*fit);
        if (!criterion)
            continue;
        result.models.push_back({*fit, 0});
        criteria.push_back(*criterion);
    }
    if (criteria.empty())
        return fail(ErrorCode::NotEstimable,
                    "too few comebacks to weigh one life distribution against another");
    const double best = *std::min_element(criteria.begin(), criteria.end());
    double total = 0;
    for (std::size_t i = 0; i < criteria.size(); ++i)
        total += result.models[i].weight = std::exp(-0.5 * (criteria[i] - best));
    for (WeightedFit& one : result.models)
        one.weight /= total;

    const double deviate = twoSidedDeviate(level);
    for (const double t : miles) {
        LifeSurvival at{t, 0, 0, 0, 0};
        std::vector<LifeSurvival> each;
        for (const WeightedFit& one : result.models) {
            each.push_back(survivalAt(one.fit, t, level));
            at.survival += one.weight * each.back().survival;
        }
        for (std::size_t i = 0; i < each.size(); ++i)
            at.se += result.models[i].weight * std::hypot(each[i].se, each[i].survival - at.survival);
        const double s = at.survival;
        at.lower = at.upper = s;
        if (s > 0 && s < 1 && at.se > 0) {
            const double spread = std::exp(std::min(700.0, deviate * at.se / (s * (1 - s))));
            at.lower = s / (s + (1 - s) * spread);
            at.upper = s / (s + (1 - s) / spread);
        }
        result.at.push_back(at);
    }
    return result;
}

std::vector<PlotPoint> probabilityPlot(const Counts& counts, LifeModel model) {
    const std::vector<double> watched = counts.watched();
    std::vector<PlotPoint> points;
    double survival = 1;
    for (std::size_t i = 0; i < counts.size(); ++i) {
        const double before = survival;
        if (counts.comebacks[i] > 0)
            survival *= std::max(0.0, 1 - counts.comebacks[i] / watched[i]);
        const double failed = 1 - 0.5 * (before + survival);
        if (counts.comebacks[i] > 0 && counts.miles[i] > 0 && failed > 0 && failed < 1)
            points.push_back({counts.miles[i], failed, standardQuantile(model, failed)});
    }
    return points;
}

} // namespace milehold::core
