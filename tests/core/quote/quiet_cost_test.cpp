// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/quiet_cost.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace milehold::core {
namespace {

WatchedSet setOf(Lives lives) {
    auto set = WatchedSet::of(countsOfAll(lives), 0.95);
    EXPECT_TRUE(set);
    return *set;
}

Lives ten() {
    Lives lives;
    lives.miles = {5'000, 15'000, 40'000, 40'000, 40'000, 40'000, 40'000, 40'000, 40'000, 40'000};
    lives.end = {kCameBack, kCameBack, kHolding, kHolding, kHolding,
                 kHolding,  kHolding,  kHolding, kHolding, kHolding};
    return lives;
}

// Nobody leaves before 20,000, so the expected quiet miles within it are the plain mean of min(life, 20,000):
// (5,000 + 15,000 + 8 * 20,000) / 10 = 18,000. Source: elementary; 1,800.00 over 18 thousand is 100.00 each.
TEST(QuietCost, SpreadsThePriceOverTheQuietMilesExpectedWithinTheHorizon) {
    const auto cost = quietCost(setOf(ten()), 20'000, Money{180'000});
    ASSERT_TRUE(cost);
    EXPECT_NEAR(cost->quiet.value(), 18'000, 1e-9);
    EXPECT_NEAR(cost->each.value(), 10'000, 1e-9);
    EXPECT_LT(cost->eachLower, *cost->each);
    EXPECT_GT(cost->eachUpper, *cost->each);
    EXPECT_GE(cost->eachLower, 180'000.0 / 20) << "no repair is quiet for more than the whole stretch";
}

// None of 10 came back by 20,000: the lower limit is (0.05/2)^(1/10) all along (Clopper & Pearson 1934).
TEST(QuietCost, GivesLimitsButNoFigureBeforeTheFirstComeback) {
    Lives lives;
    lives.miles.assign(10, 40'000);
    lives.end.assign(10, kHolding);
    const auto cost = quietCost(setOf(lives), 20'000, Money{180'000});
    ASSERT_TRUE(cost);
    EXPECT_FALSE(cost->each);
    EXPECT_NEAR(cost->quietLower, 20'000 * std::pow(0.025, 0.1), 1e-6);
    EXPECT_NEAR(cost->eachLower, 180'000.0 / 20, 1e-9);
}

TEST(QuietCost, IsRefusedInWordsWhereItWouldNotBeHonest) {
    const auto refusal = [](const Lives& lives, double within, Money price) {
        const auto cost = quietCost(setOf(lives), within, price);
        return cost ? std::string("none") : cost.error().detail;
    };
    EXPECT_EQ(refusal(ten(), 20'000, Money{0}), "no price yet");
    EXPECT_EQ(refusal(ten(), 50'000, Money{100}), "too few watched so far");
    Lives few;
    few.miles = {10'000, 40'000, 40'000, 40'000};
    few.end = {kCameBack, kHolding, kHolding, kHolding};
    EXPECT_EQ(refusal(few, 20'000, Money{100}), "too few to say");
    Lives five;
    five.miles.assign(5, 40'000);
    five.end.assign(5, kHolding);
    EXPECT_EQ(refusal(five, 20'000, Money{100}), "none") << "five are enough";
}

// Known truth: exponential lives with S(20,000) = 0.8, so the mean within 20,000 is
// 20,000 (1 - 0.8) / ln(1 / 0.8). 4 in 10 are watched only to a uniform distance. The limits must hold it at
// least 95 times in 100 (two standard errors of 400 runs are 2.2 points).
TEST(QuietCost, ItsLimitsHoldTheTruthInSimulatedShops) {
    const double truth = 20'000 * 0.2 / std::log(1 / 0.8);
    std::mt19937_64 random(20310409);
    std::exponential_distribution<double> life(std::log(1 / 0.8) / 20'000);
    std::uniform_real_distribution<double> share(0, 1);
    int held = 0;
    int made = 0;
    for (int run = 0; run < 400; ++run) {
        Lives lives;
        for (int i = 0; i < 30; ++i) {
            const double watched = share(random) < 0.4 ? share(random) * 40'000 : 40'000;
            const double failed = life(random);
            lives.miles.push_back(std::min(watched, failed));
            lives.end.push_back(failed <= watched ? kCameBack : kHolding);
        }
        const auto cost = quietCost(setOf(lives), 20'000, Money{100'000});
        if (!cost)
            continue;
        ++made;
        held += cost->quietLower <= truth && truth <= cost->quietUpper;
    }
    ASSERT_GT(made, 380);
    EXPECT_GE(held, std::lround(0.95 * made));
}

} // namespace
} // namespace milehold::core
