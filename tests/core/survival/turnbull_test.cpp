// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/innermost.h"
#include "core/survival/turnbull.h"
#include "tests/core/survival/published.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace milehold::core {
namespace {

using published::kOpen;

Turnbull estimated(const std::vector<Observation>& rows, const TurnbullOptions& options = {}) {
    const auto result = turnbull(rows, options);
    EXPECT_TRUE(result) << result.error().detail;
    return result ? *result : Turnbull{};
}

double survival(const Turnbull& estimate, double miles) {
    const SurvivalBounds at = boundsAt(estimate, miles);
    EXPECT_EQ(at.least, at.most);
    return at.most;
}

// Kuhn-Tucker conditions, sufficient for the optimum since the problem is concave (Gentleman & Geyer 1994):
// the mean gradient is 1 where there is mass and at most 1 elsewhere.
void expectOptimal(const std::vector<Observation>& rows, const Turnbull& estimate) {
    double total = 0, weight = 0;
    for (const MassInterval& m : estimate.intervals)
        total += m.mass;
    EXPECT_NEAR(total, 1, 1e-12);
    std::vector<double> slope(estimate.intervals.size(), 0.0);
    for (const Observation& row : rows) {
        weight += row.weight;
        double mass = 0;
        std::vector<std::size_t> covered;
        for (std::size_t j = 0; j < slope.size(); ++j) {
            const MassInterval& m = estimate.intervals[j];
            const bool inside =
                row.isExact() ? m.isExact() && m.from == row.lower
                              : m.to <= row.upper && (m.isExact() ? m.from > row.lower : m.from >= row.lower);
            if (!inside)
                continue;
            covered.push_back(j);
            mass += m.mass;
        }
        ASSERT_GT(mass, 0);
        for (std::size_t j : covered)
            slope[j] += row.weight / mass;
    }
    for (std::size_t j = 0; j < slope.size(); ++j) {
        EXPECT_LT(slope[j] / weight, 1 + 1e-8) << j;
        if (estimate.intervals[j].mass > 1e-9) {
            EXPECT_NEAR(slope[j] / weight, 1, 1e-8) << j;
        }
    }
}

std::vector<Observation> randomRows(std::uint64_t seed, int n, double scale) {
    std::mt19937_64 random(seed);
    std::uniform_real_distribution<double> uniform(0, 1);
    std::vector<Observation> rows;
    for (int i = 0; i < n; ++i) {
        const double t = std::round(scale * -std::log(uniform(random)));
        const double look = std::round(scale * uniform(random));
        const double gap = 1 + std::round(scale * uniform(random) * 0.7);
        const double kind = uniform(random);
        if (kind < 0.15)
            rows.push_back({t, t, 0, 1});
        else if (kind < 0.3)
            rows.push_back({look, kOpen, 0, 1});
        else if (t <= look)
            rows.push_back(look > 0 ? Observation{0, look, 0, 1} : Observation{0, 0, 0, 1});
        else if (t <= look + gap)
            rows.push_back({look, look + gap, 0, 2});
        else
            rows.push_back({look + gap, kOpen, 0, 1});
    }
    return rows;
}

TEST(Turnbull, IsTheProductLimitCurveWhenNothingIsAnInterval) {
    // Kaplan & Meier 1958 on the shock absorbers of O'Connor 1985; R survival 3.5-3 survfit, ten digits.
    const Turnbull estimate = estimated(published::observations(published::kShockAbsorber));
    EXPECT_NEAR(survival(estimate, 12200), 0.9086984996, 1e-9);
    EXPECT_NEAR(survival(estimate, 20000), 0.7837524559, 1e-9);
    EXPECT_NEAR(survival(estimate, 27490), 0.2873759005, 1e-9);
}

TEST(Turnbull, PoolsAdjacentViolatorsWhenEachIsInspectedOnce) {
    // Closed form for one inspection each (Ayer et al. 1955): the weighted isotonic regression of the shares
    // found. The wheels of Nelson 1982, pooled by hand: 6/86 at 10 and 14, 7/73, 5/30, 18/81 at 26 and 30,
    // 6/13, 43/74, 21/36.
    const Turnbull estimate = estimated(published::observations(published::kTurbineWheel));
    const double expected[] = {0,         6.0 / 86, 6.0 / 86,  7.0 / 73,  5.0 / 30, 18.0 / 81,
                               18.0 / 81, 6.0 / 13, 43.0 / 74, 43.0 / 74, 21.0 / 36};
    for (std::size_t i = 0; i < published::kTurbineWheel.size(); ++i)
        EXPECT_NEAR(1 - survival(estimate, published::kTurbineWheel[i].at), expected[i], 1e-9) << i;
}

TEST(Turnbull, IsTheLifeTableForYearlyInspections) {
    // Meeker & Escobar 1998, example 1.5, worked by hand: 4/300 in the first year, 5/197 of the rest, 2/97 of
    // the rest.
    const Turnbull estimate = estimated(published::kHeatExchanger);
    EXPECT_NEAR(survival(estimate, 1), 296.0 / 300, 1e-9);
    EXPECT_NEAR(survival(estimate, 2), 296.0 / 300 * 192 / 197, 1e-9);
    EXPECT_NEAR(survival(estimate, 3), 296.0 / 300 * 192 / 197 * 95 / 97, 1e-9);
}

TEST(Turnbull, OrdersEndsAtOneMileage) {
    // (4, 5] and (5, 8] are apart; (8, 12] holds the point 12 and not the point 8; (12, 20] holds neither.
    const InnermostProblem problem = innermostProblem(std::vector<Observation>{
        {4, 5, 0, 1}, {5, 8, 0, 1}, {8, 8, 0, 1}, {8, 12, 0, 1}, {12, 12, 0, 1}, {12, 20, 0, 1}});
    ASSERT_EQ(problem.intervals.size(), 4U);
    EXPECT_EQ(problem.intervals[0], (MassInterval{4, 5, 0}));
    EXPECT_EQ(problem.intervals[1], (MassInterval{8, 8, 0}));
    EXPECT_EQ(problem.intervals[2], (MassInterval{12, 12, 0}));
    EXPECT_EQ(problem.intervals[3], (MassInterval{12, 20, 0}));
}

TEST(Turnbull, ReachesTheOptimumOnRandomRows) {
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        SCOPED_TRACE(seed);
        const int n = seed <= 20 ? 7 : seed <= 50 ? 40 : 400;
        const auto rows = randomRows(seed, n, seed % 3 == 0 ? 12 : 4000);
        expectOptimal(rows, estimated(rows));
    }
}

TEST(Turnbull, ThePolishBringsBackMassThatWasMissing) {
    // Started from masses with holes where mass belongs, it must still reach the optimum.
    int started = 0;
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const auto rows = randomRows(seed, 40, 4000);
        const InnermostProblem problem = innermostProblem(rows);
        const std::size_t m = problem.intervals.size();
        std::vector<double> masses(m);
        for (std::size_t j = 0; j < m; ++j)
            masses[j] = j % 3 == 1 ? 0.0 : 1.0;
        double total = 0;
        for (double mass : masses)
            total += mass;
        std::vector<double> sums(m + 1, 0.0);
        for (std::size_t j = 0; j < m; ++j)
            sums[j + 1] = sums[j] + (masses[j] /= total);
        if (!std::isfinite(logLikelihood(problem, sums)))
            continue; // a row would be left without any mass
        ++started;
        polishMasses(problem, masses);
        Turnbull estimate;
        estimate.intervals = problem.intervals;
        for (std::size_t j = 0; j < m; ++j)
            estimate.intervals[j].mass = masses[j];
        expectOptimal(rows, estimate);
    }
    EXPECT_GT(started, 0);
}

TEST(Turnbull, StopsAtTheGapWithoutThePolishToo) {
    TurnbullOptions options;
    options.polished = false;
    const auto rows = randomRows(5, 200, 300);
    const Turnbull rough = estimated(rows, options);
    const Turnbull fine = estimated(rows);
    EXPECT_LE(rough.gap, 1e-6);
    EXPECT_LE(fine.gap, 1e-8);
    EXPECT_NEAR(rough.logLikelihood, fine.logLikelihood, 400 * 1e-6);
    EXPECT_GE(fine.logLikelihood, rough.logLikelihood - 1e-9);
}

TEST(Turnbull, NeedsFarFewerStepsThanPlainExpectationSteps) {
    TurnbullOptions fast, plain;
    fast.polished = plain.polished = plain.accelerated = false;
    // Two looks a life, as in Wellner & Zhan 1997, section 5: EM alone creeps where masses go to 0.
    std::mt19937_64 random(9);
    std::uniform_real_distribution<double> uniform(0, 1);
    std::vector<Observation> rows;
    for (int i = 0; i < 600; ++i) {
        const double t = -std::log(uniform(random)), first = uniform(random),
                     second = first + uniform(random);
        if (t <= first)
            rows.push_back({0, first, 0, 1});
        else if (t <= second)
            rows.push_back({first, second, 0, 1});
        else
            rows.push_back({second, kOpen, 0, 1});
    }
    EXPECT_GT(estimated(rows, plain).steps, 20 * estimated(rows, fast).steps);
}

TEST(Turnbull, StandsOnTheEdges) {
    // One row, all holding, all at one mileage, a comeback at 0.
    EXPECT_EQ(estimated({{50, kOpen, 0, 3}}).intervals, (std::vector<MassInterval>{{50, kOpen, 1}}));
    EXPECT_EQ(estimated({{50, 60, 0, 3}}).intervals, (std::vector<MassInterval>{{50, 60, 1}}));
    EXPECT_EQ(estimated({{7, 7, 0, 1}, {7, 7, 0, 2}}).intervals, (std::vector<MassInterval>{{7, 7, 1}}));
    const Turnbull zero = estimated({{0, 0, 0, 1}, {0, 3, 0, 1}, {0, kOpen, 0, 2}});
    EXPECT_NEAR(survival(zero, 0), 0.75, 1e-9); // one of four at 0, the other three fit (0, 3]
    EXPECT_NEAR(survival(zero, 3), 0, 1e-9);
}

TEST(Turnbull, RefusesDelayedEntryInWords) {
    const auto result = turnbull(std::vector<Observation>{{5, 9, 2, 1}, {3, kOpen, 0, 1}});
    ASSERT_FALSE(result);
    EXPECT_EQ(result.error().code, ErrorCode::NotEstimable);
    EXPECT_NE(result.error().detail.find("entered late"), std::string::npos);
    EXPECT_FALSE(turnbull(std::vector<Observation>{}));
}

TEST(Turnbull, BootstrapLimitsHoldTheEstimateAndRepeatBySeed) {
    const auto rows = randomRows(3, 80, 50);
    const std::vector<double> miles = {5, 20, 40};
    const auto one = bootstrapLimits(rows, miles, 0.95, 200, 42);
    const auto two = bootstrapLimits(rows, miles, 0.95, 200, 42);
    const auto wide = bootstrapLimits(rows, miles, 0.99, 200, 42);
    ASSERT_TRUE(one && two && wide);
    const Turnbull estimate = estimated(rows);
    for (std::size_t k = 0; k < miles.size(); ++k) {
        EXPECT_EQ((*one)[k].lower, (*two)[k].lower);
        EXPECT_EQ((*one)[k].upper, (*two)[k].upper);
        EXPECT_LE((*one)[k].lower, boundsAt(estimate, miles[k]).least);
        EXPECT_GE((*one)[k].upper, boundsAt(estimate, miles[k]).most);
        EXPECT_LE((*wide)[k].lower, (*one)[k].lower);
        EXPECT_GE((*wide)[k].upper, (*one)[k].upper);
    }
}

TEST(Turnbull, BootstrapLimitsAgreeWithTheBinomialWhenAllAreWatched) {
    // 60 of 100 hold past the only look: percentile limits near those of the binomial share, 0.60 -+ 1.96 *
    // 0.049.
    const auto limits = bootstrapLimits(std::vector<Observation>{{0, 10, 0, 40}, {10, kOpen, 0, 60}},
                                        std::vector<double>{10}, 0.95, 2000, 1);
    ASSERT_TRUE(limits);
    EXPECT_NEAR((*limits)[0].lower, 0.50, 0.015);
    EXPECT_NEAR((*limits)[0].upper, 0.70, 0.015);
}

// Rows that are exact or open: the product limit, at any size at once. Figures of Miller 1981 (AML,
// maintained arm).
TEST(Turnbull, WithoutIntervalsIsTheProductLimitInOneStep) {
    const double inf = std::numeric_limits<double>::infinity();
    std::vector<Observation> rows;
    for (const auto& [weeks, back] : std::vector<std::pair<double, bool>>{{9, true},
                                                                          {13, true},
                                                                          {13, false},
                                                                          {18, true},
                                                                          {23, true},
                                                                          {28, false},
                                                                          {31, true},
                                                                          {34, true},
                                                                          {45, false},
                                                                          {48, true},
                                                                          {161, false}})
        rows.push_back({weeks, back ? weeks : inf, 0, 1});
    const auto estimate = turnbull(rows);
    ASSERT_TRUE(estimate);
    EXPECT_EQ(estimate->steps, 0);
    const std::pair<double, double> expected[] = {{9, 10.0 / 11},
                                                  {13, 9.0 / 11},
                                                  {18, 9.0 / 11 * 7 / 8},
                                                  {23, 9.0 / 11 * 6 / 8},
                                                  {31, 9.0 / 11 * 6 / 8 * 4 / 5},
                                                  {34, 9.0 / 11 * 6 / 8 * 3 / 5},
                                                  {48, 9.0 / 11 * 6 / 8 * 3 / 5 / 2}};
    for (const auto& [weeks, survival] : expected) {
        EXPECT_NEAR(boundsAt(*estimate, weeks).least, survival, 1e-14) << weeks;
        EXPECT_NEAR(boundsAt(*estimate, weeks).most, survival, 1e-14) << weeks;
    }
    // Past the last of a sample's exact or open rows what is left may lie anywhere.
    const auto limits = bootstrapLimits(rows, std::vector<double>{0, 20, 161}, 0.95, 400, 1);
    ASSERT_TRUE(limits);
    EXPECT_EQ((*limits)[0].lower, 1);
    EXPECT_LE((*limits)[2].lower, 1e-15);
    EXPECT_LT((*limits)[1].lower, 9.0 / 11 * 7 / 8);
    EXPECT_GT((*limits)[1].upper, 9.0 / 11 * 7 / 8);
}

} // namespace
} // namespace milehold::core
