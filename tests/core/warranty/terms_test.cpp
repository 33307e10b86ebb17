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

// Lives of a known law: 5 in 100 never hold, the rest are Weibull of shape 1.6 and scale 150,000, watched to
// 20,000 to 60,000 miles. Truth within 24,000 miles: 1 - 0.95 exp(-(24/150)^1.6) = 0.0993; one Weibull of
// all, with its comebacks at 0 taken as before 1 mile, puts it near 0.12 and its shape below 0.5.
TEST(WarrantyTerms, TakeRepairsThatNeverHeldForAShareOfTheirOwn) {
    constexpr int kLives = 4'000;
    std::vector<Observation> rows;
    std::uint64_t state = 88'172'645'463'325'252;
    const auto uniform = [&] { // xorshift: the same numbers everywhere
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        return (static_cast<double>(state >> 11) + 0.5) * 0x1.0p-53;
    };
    for (int i = 0; i < kLives; ++i) {
        const bool never = uniform() < 0.05;
        const double life = 150'000 * std::pow(-std::log(uniform()), 1 / 1.6);
        const double watch = 20'000 + 40'000 * uniform();
        if (never)
            rows.push_back({0, 0, 0, 1});
        else if (life <= watch)
            rows.push_back({life, life, 0, 1});
        else
            rows.push_back({watch, published::kOpen, 0, 1});
    }
    WarrantyOptions options;
    options.replicates = 100;
    const std::vector<double> drivers = {12'000};
    const auto cost = warrantyCost(rows, drivers, {24, 24'000}, options);
    ASSERT_TRUE(cost) << cost.error().detail;
    const double truth = 1 - 0.95 * std::exp(-std::pow(24.0 / 150, 1.6));
    EXPECT_NEAR(cost->share.value, truth, 0.012); // 2.5 standard errors of a share of 4,000
    EXPECT_LE(cost->share.lower, truth);
    EXPECT_GE(cost->share.upper, truth);
    // A day's warranty costs those that never held, no more and no less.
    const auto day = warrantyCost(rows, drivers, {24, 1}, options);
    ASSERT_TRUE(day);
    EXPECT_NEAR(day->share.value, 0.05, 0.01);
    // A life first seen later tells nothing of those that never held.
    for (int i = 0; i < 2'000; ++i)
        rows.push_back({60'000, published::kOpen, 59'999, 1});
    EXPECT_NEAR(warrantyCost(rows, drivers, {24, 1}, options)->share.value, day->share.value, 1e-6);
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
