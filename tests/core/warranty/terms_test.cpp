// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/warranty/terms.h"
#include "tests/core/survival/published.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

LifeFit exponential(double mean) {
    LifeFit fit;
    fit.model = LifeModel::Exponential;
    fit.location = std::log(mean);
    return fit;
}

TEST(WarrantyTerms, EndAtTheFirstOfTwoLimits) {
    EXPECT_EQ(coveredMiles({24, 24000}, 10000), 20000);
    EXPECT_EQ(coveredMiles({24, 24000}, 15000), 24000);
    EXPECT_EQ(coveredMiles({6, 24000}, 0), 0);
}

TEST(WarrantyTerms, ShareIsTheMeanOverDrivers) {
    // By hand, exponential life of mean 100,000: drivers of 5,000, 12,000 and 30,000 miles a year under 24
    // months or 24,000 miles are covered for 10,000, 24,000 and 24,000 miles.
    const std::vector<double> drivers = {5000, 12000, 30000};
    const double share = (2 * -std::expm1(-0.24) - std::expm1(-0.1)) / 3;
    EXPECT_NEAR(warrantyShare(exponential(1e5), {24, 24000}, drivers), share, 1e-14);
    // Where hardly anything fails no digits are lost: F = 2.4e-13.
    EXPECT_NEAR(warrantyShare(exponential(1e17), {24, 24000}, std::vector<double>{30000}) / 2.4e-13, 1, 1e-9);
}

TEST(WarrantyTerms, CostIsShareTimesJobsTimesMoney) {
    const auto rows = published::observations(published::kVehicleComponent);
    WarrantyOptions options;
    options.jobs = 200;
    options.costEach = 45000;
    options.replicates = 300;
    const std::vector<double> drivers = {9000, 12000, 12500, 18000};
    const auto cost = warrantyCost(rows, drivers, {24, 24000}, options);
    ASSERT_TRUE(cost) << cost.error().detail;
    EXPECT_NEAR(cost->comebacks.value, 200 * cost->share.value, 1e-9);
    EXPECT_NEAR(cost->money.value, 45000 * cost->comebacks.value, 1e-6);
    EXPECT_LT(cost->share.lower, cost->share.value);
    EXPECT_GT(cost->share.upper, cost->share.value);
    const auto again = warrantyCost(rows, drivers, {24, 24000}, options);
    EXPECT_EQ(cost->share.lower, again->share.lower) << "same seed, same limits";
    // Longer terms cost no less.
    EXPECT_GE(warrantyCost(rows, drivers, {36, 36000}, options)->share.value, cost->share.value);
}

TEST(WarrantyTerms, LimitsAgreeWithTheExactOnesOfAnExponentialLife) {
    // One driver, exponential life: share = 1 - exp(-x/mean); with d comebacks ln(mean) has standard error
    // near 1/sqrt(d).
    std::vector<Observation> rows;
    for (int i = 1; i <= 60; ++i)
        rows.push_back({1000.0 * i, 1000.0 * i, 0, 1});
    WarrantyOptions options;
    options.model = LifeModel::Exponential;
    const auto cost = warrantyCost(rows, std::vector<double>{12000}, {12, 12000}, options);
    ASSERT_TRUE(cost);
    const double mean = 30500;
    EXPECT_NEAR(cost->share.value, -std::expm1(-12000 / mean), 1e-9);
    // Resampling sees how evenly these comebacks lie: the mean has the error of its own sample,
    // sd(1000..60000)/sqrt(60).
    const double se = 1000 * std::sqrt((60.0 * 60 - 1) / 12) / std::sqrt(60.0);
    EXPECT_NEAR(cost->share.upper, -std::expm1(-12000 / (mean - 1.96 * se)), 0.015);
    EXPECT_NEAR(cost->share.lower, -std::expm1(-12000 / (mean + 1.96 * se)), 0.015);
}

TEST(WarrantyTerms, RefuseInWords) {
    const auto rows = published::observations(published::kVehicleComponent);
    const std::vector<double> drivers = {12000};
    EXPECT_FALSE(warrantyCost(rows, {}, {24, 24000}));
    EXPECT_FALSE(warrantyCost(rows, drivers, {0, 24000}));
    EXPECT_FALSE(warrantyCost(rows, std::vector<double>{-1}, {24, 24000}));
    const auto none =
        warrantyCost(std::vector<Observation>{{100, published::kOpen, 0, 5}}, drivers, {24, 24000});
    ASSERT_FALSE(none);
    EXPECT_EQ(none.error().code, ErrorCode::NotEstimable);
}

} // namespace
} // namespace milehold::core
