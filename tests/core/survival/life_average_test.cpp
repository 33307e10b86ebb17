// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/life_average.h"
#include "tests/core/survival/published.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

TEST(LifeAverage, WeighsModelsByTheCorrectedCriterion) {
    // Shock absorbers of O'Connor 1985, log likelihoods of R survival 3.5-3 survreg: -123.9953612,
    // -124.60855, -131.4237282. AICc with 11 comebacks: -2 ln L + 2k + 2k(k+1)/(11-k-1): 253.4907224,
    // 254.7171, 265.2919008; weights from these.
    const LifeData data = lifeData(published::observations(published::kShockAbsorber));
    const auto averaged = averagedSurvival(data, std::vector<double>{20000}, 0.95);
    ASSERT_TRUE(averaged);
    ASSERT_EQ(averaged->models.size(), 3U);
    const double criteria[] = {253.4907224, 254.7171, 265.2919008};
    double total = 0, weights = 0;
    for (double c : criteria)
        total += std::exp(-0.5 * (c - criteria[0]));
    double survival = 0;
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_NEAR(*correctedAic(averaged->models[i].fit), criteria[i], 1e-6);
        EXPECT_NEAR(averaged->models[i].weight, std::exp(-0.5 * (criteria[i] - criteria[0])) / total, 1e-7);
        weights += averaged->models[i].weight;
        survival += averaged->models[i].weight * survivalAt(averaged->models[i].fit, 20000, 0.95).survival;
    }
    EXPECT_NEAR(weights, 1, 1e-14);
    const LifeSurvival& at = averaged->at[0];
    EXPECT_NEAR(at.survival, survival, 1e-12);
    EXPECT_LT(at.lower, at.survival);
    EXPECT_GT(at.upper, at.survival);
    // The averaged error is never smaller than the weighted mean of the models' own.
    double own = 0;
    for (const WeightedFit& one : averaged->models)
        own += one.weight * survivalAt(one.fit, 20000, 0.95).se;
    EXPECT_GE(at.se, own);
}

TEST(LifeAverage, TooFewComebacksHaveNoCriterion) {
    const std::vector<Observation> rows = {{10, 10, 0, 1}, {20, 20, 0, 1}, {30, published::kOpen, 0, 2}};
    const auto weibull = fitLife(lifeData(rows), LifeModel::Weibull);
    ASSERT_TRUE(weibull);
    EXPECT_FALSE(correctedAic(*weibull));
    EXPECT_FALSE(averagedSurvival(lifeData(rows), std::vector<double>{10}, 0.95));
}

TEST(LifeAverage, PlotsComebacksHalfWayUpTheirSteps) {
    // Meeker & Escobar 1998, section 6.4: without censoring the share at the i-th of n is (i - 0.5) / n.
    Counts counts;
    counts.miles = {10, 20, 40, 80};
    counts.comebacks = {1, 1, 1, 1};
    counts.left = {0, 0, 0, 0};
    const auto points = probabilityPlot(counts, LifeModel::Weibull);
    ASSERT_EQ(points.size(), 4U);
    for (std::size_t i = 0; i < 4; ++i) {
        const double share = (static_cast<double>(i) + 0.5) / 4;
        EXPECT_NEAR(points[i].failed, share, 1e-12);
        EXPECT_NEAR(points[i].quantile, std::log(-std::log(1 - share)), 1e-12);
    }
}

} // namespace
} // namespace milehold::core
