// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/pooling.h"
#include "tests/core/survival/bus_engines.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace milehold::core {
namespace {

using published::relative;

Counts counted(const std::vector<published::Life>& lives, double unit) {
    std::vector<CountRow> rows;
    for (const published::Life& life : lives)
        rows.push_back({0, life.miles / unit, life.cameBack != 0 ? kCameBack : kHolding, life.count});
    return countsFromRows(rows);
}

std::vector<Counts> buses(double unit) {
    std::vector<Counts> paths;
    for (const auto& group : published::kBusEngines)
        paths.push_back(counted(group, unit));
    return paths;
}

TEST(Pooling, MatchesTheMarginalMaximumOnBusEngines) {
    // Gamma-Poisson marginal likelihood of Rust's buses in units of 100,000 miles, maximised in R 4.2 with
    // nlm() from several optim() runs: -ln L 83.4166978842, shape 4.31052844, a 24.72562, b 2251.304.
    const auto pooling = pooledRates(buses(1e5));
    ASSERT_TRUE(pooling) << pooling.error().detail;
    EXPECT_LT(relative(pooling->shape, 4.31052843938), 1e-6);
    EXPECT_NEAR(-pooling->logMarginal, 83.4166978842, 1e-9);
    const double a = 1 / pooling->spread;
    const double b = a / pooling->rate * std::pow(pooling->unit, pooling->shape);
    EXPECT_LT(relative(a, 24.72561985), 1e-5);
    EXPECT_LT(relative(b, 2251.304187), 1e-5);
    const double expected[] = {0.939393586756, 0.939589244057, 0.929634816313, 0.947231831904};
    for (std::size_t g = 0; g < 4; ++g)
        EXPECT_NEAR(pooledSurvival(*pooling, g, 1.5, 0.95).survival, expected[g], 1e-7);
}

TEST(Pooling, LiesBetweenAPathsOwnRateAndTheCommonOne) {
    const auto pooling = pooledRates(buses(1));
    ASSERT_TRUE(pooling);
    for (std::size_t g = 0; g < 4; ++g) {
        const PooledPath& path = pooling->paths[g];
        const PooledSurvival at = pooledSurvival(*pooling, g, 150000, 0.95);
        EXPECT_GT(path.weightFromOthers, 0);
        EXPECT_LT(path.weightFromOthers, 1);
        // The pooled rate is that mixture of the two rates.
        const double a = 1 / pooling->spread, b = a / pooling->rate;
        const double mixed = path.weightFromOthers * pooling->rate +
                             (1 - path.weightFromOthers) * path.comebacks / path.exposure;
        EXPECT_LT(relative((a + path.comebacks) / (b + path.exposure), mixed), 1e-9);
        EXPECT_LT(at.lower, at.survival);
        EXPECT_LT(at.survival, at.upper);
        ASSERT_TRUE(at.own);
    }
    EXPECT_EQ(*pooledSurvival(*pooling, 0, 150000, 0.95).own, 1) << "no comeback of its own";
    EXPECT_GT(pooling->paths[1].weightFromOthers, pooling->paths[3].weightFromOthers)
        << "4 buses borrow more than 37";
}

TEST(Pooling, DoesNotDependOnTheUnit) {
    const auto one = pooledRates(buses(1)), two = pooledRates(buses(1e5));
    ASSERT_TRUE(one && two);
    EXPECT_LT(relative(one->shape, two->shape), 1e-7);
    EXPECT_LT(relative(pooledSurvival(*one, 2, 200000, 0.9).lower, pooledSurvival(*two, 2, 2, 0.9).lower),
              1e-6);
}

TEST(Pooling, PoolsAllWhenPathsDifferByChanceOnly) {
    // The same path twice: no spread, and the shape and scale of the two together as Weibull lives. For
    // shared rows the Weibull maximum is R survival 3.5-3's on the shock absorbers: shape 3.160470315.
    const Counts path = counted(published::kShockAbsorber, 1);
    const auto pooling = pooledRates(std::vector<Counts>{path, path});
    ASSERT_TRUE(pooling);
    EXPECT_EQ(pooling->spread, 0);
    EXPECT_EQ(pooling->paths[0].weightFromOthers, 1);
    EXPECT_LT(relative(pooling->shape, 3.160470315), 1e-7);
    const PooledSurvival at = pooledSurvival(*pooling, 0, 20000, 0.95);
    EXPECT_NEAR(at.survival, std::exp(-std::pow(20000 / 27718.71813, 3.160470315)), 1e-7);
    EXPECT_LT(at.lower, at.survival);
    EXPECT_GT(at.upper, at.survival);
}

TEST(Pooling, ShrinksARateAsTheGammaPoissonRuleSays) {
    // Conjugate rule, by hand: prior a = 2, b = 200,000 mi; 3 comebacks in 60,000 mi: (2 + 3) / (200,000 +
    // 60,000).
    Pooling pooling;
    pooling.shape = 1;
    pooling.unit = 1;
    pooling.rate = 1e-5;
    pooling.spread = 0.5;
    pooling.paths = {{0, 60000, 0}, {3, 60000, 0}};
    EXPECT_NEAR(pooledSurvival(pooling, 0, 1e4, 0.95).survival, std::pow(260000.0 / 270000, 2), 1e-12);
    const PooledSurvival at = pooledSurvival(pooling, 1, 1e4, 0.95);
    EXPECT_NEAR(at.survival, std::pow(260000.0 / 270000, 5), 1e-12);
    // Credible limits of the rate 6.244178424e-06 and 3.939072567e-05: qgamma(c(.025, .975), 5, 260000) of R.
    EXPECT_NEAR(at.upper, std::exp(-1e4 * 6.244178424e-06), 1e-9);
    EXPECT_NEAR(at.lower, std::exp(-1e4 * 3.939072567e-05), 1e-9);
}

TEST(Pooling, ItsLimitsHoldTheTruthAsOftenAsTheySay) {
    // Invented truth: paths of 15 lives, Weibull shape 1.5, rates gamma distributed with coefficient of
    // variation 0.7, watched to somewhere within 100,000 miles. Of the same simulation, limits that take the
    // estimated spread for known hold far less than they say, which is why they are not shown.
    std::mt19937_64 random(20);
    std::uniform_real_distribution<double> uniform(0, 1);
    std::gamma_distribution<double> relativeRate(1 / 0.49, 0.49);
    int held = 0, heldIfKnown = 0, trials = 0;
    for (int shop = 0; shop < 120; ++shop) {
        const std::size_t paths = 3 + static_cast<std::size_t>(shop) % 4;
        std::vector<Counts> counts;
        std::vector<double> truth;
        for (std::size_t p = 0; p < paths; ++p) {
            const double rate = relativeRate(random);
            truth.push_back(std::exp(-rate * std::pow(40000 / 60000.0, 1.5)));
            Lives lives;
            for (int i = 0; i < 15; ++i) {
                const double life = 60000 * std::pow(-std::log(uniform(random)) / rate, 1 / 1.5);
                const double watch = 100000 * uniform(random);
                lives.miles.push_back(std::ceil(std::min(life, watch)));
                lives.end.push_back(life <= watch ? kCameBack : kHolding);
            }
            counts.push_back(countsOfAll(lives));
        }
        const auto pooling = pooledRates(counts);
        ASSERT_TRUE(pooling) << pooling.error().detail;
        Pooling known = *pooling;
        known.guesses.clear();
        for (std::size_t p = 0; p < paths; ++p, ++trials) {
            const PooledSurvival at = pooledSurvival(*pooling, p, 40000, 0.95);
            held += at.lower <= truth[p] && truth[p] <= at.upper ? 1 : 0;
            const PooledSurvival narrow = pooledSurvival(known, p, 40000, 0.95);
            heldIfKnown += narrow.lower <= truth[p] && truth[p] <= narrow.upper ? 1 : 0;
        }
    }
    EXPECT_GE(held, 0.93 * trials) << "two standard errors below 95 % of about 540 trials";
    EXPECT_LE(held, 0.99 * trials) << "and not for being useless";
    EXPECT_LE(heldIfKnown, 0.9 * trials);
}

TEST(Pooling, ItsGuessesAreWeightedAndItsLimitsGrowWithTheLevel) {
    const auto pooling = pooledRates(buses(1));
    ASSERT_TRUE(pooling);
    double sum = 0;
    for (const PooledGuess& guess : pooling->guesses)
        sum += guess.weight;
    EXPECT_NEAR(sum, 1, 1e-12);
    const PooledSurvival wide = pooledSurvival(*pooling, 1, 150000, 0.99),
                         narrow = pooledSurvival(*pooling, 1, 150000, 0.8);
    EXPECT_LT(wide.lower, narrow.lower);
    EXPECT_GT(wide.upper, narrow.upper);
    EXPECT_EQ(pooledSurvival(*pooling, 1, 0, 0.95).lower, 1) << "nothing fails in no miles";
    EXPECT_EQ(pooledSurvival(*pooling, 1, 150000, 0.95).lower,
              pooledSurvival(*pooling, 1, 150000, 0.95).lower);
}

TEST(Pooling, RefusesInWords) {
    const Counts holding = counted({{100, 0}}, 1), one = counted({{100, 1}}, 1);
    EXPECT_FALSE(pooledRates(std::vector<Counts>{one}));
    EXPECT_FALSE(pooledRates(std::vector<Counts>{holding, holding}));
    EXPECT_FALSE(pooledRates(std::vector<Counts>{one, one}));
    const auto lone = pooledRates(std::vector<Counts>{one, counted({{150, 0}}, 1)});
    ASSERT_FALSE(lone);
    EXPECT_EQ(lone.error().code, ErrorCode::NotEstimable)
        << "one comeback cannot say how far two paths differ";
}

} // namespace
} // namespace milehold::core
