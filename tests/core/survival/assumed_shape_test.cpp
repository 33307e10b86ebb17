// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/assumed_shape.h"
#include "tests/core/survival/published.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

using published::relative;

Counts counted(std::vector<std::pair<double, double>> milesAndComebacks) {
    Counts counts;
    for (const auto& [miles, comebacks] : milesAndComebacks) {
        counts.miles.push_back(miles);
        counts.comebacks.push_back(comebacks);
        counts.left.push_back(1 - comebacks);
    }
    return counts;
}

const std::vector<double> kShapes = {1, 2, 3};

TEST(AssumedShape, GivesALowerLimitWithoutAnyComeback) {
    // Nelson 1985: scale >= (T / -ln 0.05)^(1/shape), T the sum of miles^shape; S(36,000) from it. Worked by
    // hand for five repairs that hold at 40,000, 52,000, 61,000, 75,000 and 90,000 miles.
    const auto shapes =
        assumedShapes(counted({{40000, 0}, {52000, 0}, {61000, 0}, {75000, 0}, {90000, 0}}), kShapes);
    ASSERT_TRUE(shapes);
    const double lowerScale[] = {106151.0078, 85207.56049, 80837.01722};
    const double survival[] = {0.7123830628, 0.8365204405, 0.9154646032};
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_FALSE((*shapes)[i].scale);
        EXPECT_LT(relative((*shapes)[i].lowerScale, lowerScale[i]), 1e-9);
        EXPECT_LT(relative(worstSurvival(std::span(&(*shapes)[i], 1), 36000).lower, survival[i]), 1e-9);
    }
    const WorstSurvival worst = worstSurvival(*shapes, 36000);
    EXPECT_EQ(worst.shape, 1);
    EXPECT_LT(relative(worst.lower, survival[0]), 1e-9);
    EXPECT_EQ(worstSurvival(*shapes, 200000).shape, 3) << "far out the steepest is the worst";
}

TEST(AssumedShape, AtTheShareOfOneMeanLifeTheLimitIsTheTotalItself) {
    // At the one-sided level 1 - 1/e without comebacks the limit is T^(1/shape): 318,000, 147,478.8,
    // 116,531.8 miles.
    const auto shapes = assumedShapes(counted({{40000, 0}, {52000, 0}, {61000, 0}, {75000, 0}, {90000, 0}}),
                                      kShapes, 1 - std::exp(-1.0));
    ASSERT_TRUE(shapes);
    EXPECT_LT(relative((*shapes)[0].lowerScale, 318000), 1e-9);
    EXPECT_LT(relative((*shapes)[1].lowerScale, 147478.812), 1e-9);
    EXPECT_LT(relative((*shapes)[2].lowerScale, 116531.8424), 1e-9);
}

TEST(AssumedShape, UsesTheChiSquareWithComebacks) {
    // Nelson 1985: scale (T/2)^(1/shape), limit (2T / chi-square(0.95; 6))^(1/shape); two more that failed at
    // 30,000, 45,000.
    const auto shapes = assumedShapes(
        counted({{30000, 1}, {40000, 0}, {45000, 1}, {52000, 0}, {61000, 0}, {75000, 0}, {90000, 0}}),
        kShapes);
    ASSERT_TRUE(shapes);
    const double scale[] = {196500, 111074.2995, 94737.76247};
    const double lower[] = {62422.63066, 62604.18109, 64642.22464};
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_LT(relative(*(*shapes)[i].scale, scale[i]), 1e-9);
        EXPECT_LT(relative((*shapes)[i].lowerScale, lower[i]), 1e-9);
    }
}

TEST(AssumedShape, StandsOnTheEdges) {
    EXPECT_FALSE(assumedShapes(Counts{}));
    EXPECT_FALSE(assumedShapes(counted({{0, 1}})));
    EXPECT_FALSE(assumedShapes(counted({{10, 0}}), std::vector<double>{0}));
    const auto huge = assumedShapes(counted({{1e-3, 1}, {1e7, 0}}), std::vector<double>{80});
    ASSERT_TRUE(huge);
    EXPECT_TRUE(std::isfinite((*huge)[0].lowerScale));
    // Delayed entry: only the miles from entry on count. One watched over (10, 20] at shape 1: T = 10.
    Counts late = counted({{20, 0}});
    late.entryMiles = {10};
    late.entered = {1};
    EXPECT_NEAR((*assumedShapes(late))[0].lowerScale, 10 / -std::log(0.05), 1e-12);
}

} // namespace
} // namespace milehold::core
