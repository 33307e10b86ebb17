// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/projection.h"

#include "core/quote/path_evidence.h"

namespace milehold::core {

namespace {

constexpr int kPoints = 48; // a smooth line to the eye

} // namespace

std::optional<LifeSurvival> QuoteProjection::at(double asked) const {
    if (asked < from || asked > to)
        return std::nullopt;
    return survivalAt(fit, asked, level);
}

Result<QuoteProjection> projectOn(const Counts& counts, double from, double to, double level) {
    if (!(from >= 0 && to > from))
        return fail(ErrorCode::InvalidInput, "a projection ends before it begins");
    if (counts.allComebacks() < kFewest)
        return fail(ErrorCode::NotEstimable, "too few comebacks to project from");
    const auto fit = fitLife(lifeData(counts), LifeModel::Weibull);
    if (!fit)
        return failureOf(fit);
    QuoteProjection projection;
    projection.fit = *fit;
    projection.level = level;
    projection.from = from;
    projection.to = to;
    for (int i = 0; i <= kPoints; ++i) {
        const LifeSurvival point = survivalAt(*fit, from + (to - from) * i / kPoints, level);
        projection.miles.push_back(point.miles);
        projection.survival.push_back(point.survival);
        projection.lower.push_back(point.lower);
        projection.upper.push_back(point.upper);
    }
    return projection;
}

} // namespace milehold::core
