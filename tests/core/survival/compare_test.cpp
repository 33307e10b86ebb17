// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/compare.h"
#include "tests/core/survival/tables.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

using published::livesOf;

Comparison compared(const Lives& lives, const CompareOptions& options = {}) {
    const auto result = compare(countsByStratum(lives), options);
    EXPECT_TRUE(result) << result.error().detail;
    return result ? *result : Comparison{};
}

const Lives kFreireich = livesOf({published::kMercaptopurine, published::kPlacebo});

// Freireich et al. 1963: observed 9 and 21, expected 19.25 and 10.75, chi-square 16.79 (Kleinbaum & Klein
// 2005, Survival Analysis, ch. 2); to ten digits by survdiff() of R survival 3.5.
TEST(Compare, MatchesTheLogRankTestOfFreireich1963) {
    const Comparison result = compared(kFreireich);
    EXPECT_EQ(result.groups[0].lives, 21);
    EXPECT_EQ(result.groups[0].observed, 9);
    EXPECT_EQ(result.groups[1].observed, 21);
    EXPECT_NEAR(result.groups[0].expected, 19.25, 5e-3);
    EXPECT_NEAR(result.groups[1].expected, 10.75, 5e-3);
    EXPECT_NEAR(*result.chiSquare, 16.79, 5e-3);
    EXPECT_EQ(result.df, 1);
    EXPECT_NEAR(*result.p, 4.17e-5, 1e-7);
    EXPECT_EQ(result.evidence, CompareEvidence::Enough);
}

// One mileage with comebacks: the 2 x 2 table, chi-square = (n-1)(ad-bc)^2/(product of the margins), by hand.
TEST(Compare, IsTheTwoByTwoTableWhenAllComeBackAtOneMileage) {
    Lives lives = livesOf({{{10, 1, 3}, {20, 0, 7}}, {{10, 1, 6}, {20, 0, 4}}});
    EXPECT_NEAR(*compared(lives).chiSquare, 19.0 * 30 * 30 / (10 * 10 * 9 * 11), 1e-13);
}

// With two groups any scores give the test of the groups itself; so do equal steps however large.
TEST(Compare, HasATrendThatIsTheTestItselfForTwoGroups) {
    const double chi = *compared(kFreireich).chiSquare;
    for (const std::vector<double>& scores : {std::vector<double>{1, 2}, {7, -3}, {2000001, 2000002}}) {
        const Comparison result = compared(kFreireich, {0, scores});
        ASSERT_TRUE(result.trend);
        EXPECT_NEAR(result.trend->value, chi, 1e-9 * chi);
    }
    EXPECT_FALSE(compared(kFreireich, {0, {4, 4}}).trend);
}

// Strata by hand: the sums of both tables.
TEST(Compare, AddsUpOverStrata) {
    Lives lives = livesOf(
        {{{10, 1, 3}, {20, 0, 7}, {5, 1, 2}, {9, 0, 2}}, {{10, 1, 6}, {20, 0, 4}, {5, 1, 1}, {9, 0, 3}}});
    lives.stratum = {0, 0, 1, 1, 0, 0, 1, 1};
    lives.stratumNames = {"x", "y"};
    const Comparison result = compared(lives);
    EXPECT_NEAR(result.groups[0].expected, 9 * 10 / 20.0 + 3 * 4 / 8.0, 1e-14);
    const double u = 3 + 2 - result.groups[0].expected;
    const double v = 9.0 * 11 / 19 / 4 + 3.0 * 5 / 7 / 4;
    EXPECT_NEAR(*result.chiSquare, u * u / v, 1e-13);
}

// rho = 1: comebacks at 1 and 2 of four lives, S just before is 1 and 3/4, by hand.
TEST(Compare, WeighsAMileageByTheSurvivalJustBefore) {
    Lives lives = livesOf({{{1, 1}, {3, 0}}, {{2, 1}, {3, 0}}});
    const Comparison result = compared(lives, {1, {}});
    EXPECT_NEAR(result.groups[0].observed, 1, 0);
    EXPECT_NEAR(result.groups[1].observed, 0.75, 1e-15);
    EXPECT_NEAR(result.groups[0].expected, 0.5 + 0.75 / 3, 1e-15);
    const double v = 1.0 / 4 + 0.75 * 0.75 * 2.0 / 9;
    EXPECT_NEAR(*result.chiSquare, std::pow(1 - 0.75, 2) / v, 1e-13);
}

TEST(Compare, LeavesAGroupOutThatNobodyWatchedAtAComeback) {
    const Lives lives = livesOf({{{1, 0, 4}}, {{5, 1}, {8, 0, 3}}, {{6, 1, 2}, {9, 0}}});
    const Comparison result = compared(lives);
    EXPECT_EQ(result.groups[0].expected, 0);
    EXPECT_EQ(result.groups[0].lives, 4);
    EXPECT_EQ(result.df, 1);
    EXPECT_TRUE(result.p);
}

TEST(Compare, HasNothingToSayOfOneGroup) {
    const Comparison result = compared(livesOf(published::kMaintained));
    EXPECT_EQ(result.chiSquare, 0);
    EXPECT_EQ(result.df, 0);
    EXPECT_FALSE(result.p);
}

TEST(Compare, HasNoChiSquareWhenAllComeBackAtOnce) {
    const Comparison result = compared(livesOf({{{7, 1, 5}}, {{7, 1, 3}}}));
    EXPECT_EQ(result.df, 1);
    EXPECT_FALSE(result.chiSquare);
    EXPECT_FALSE(result.p);
}

TEST(Compare, SaysHowFarItIsToBeTrusted) {
    EXPECT_EQ(compared(livesOf({{{1, 1, 2}, {9, 0, 8}}, {{2, 1, 2}, {9, 0, 8}}})).evidence,
              CompareEvidence::TooLittle);
    EXPECT_EQ(compared(livesOf({{{1, 1, 2}, {9, 0, 8}}, {{2, 1, 3}, {9, 0, 8}}})).evidence,
              CompareEvidence::Permutation);
    EXPECT_EQ(compared(livesOf({{{1, 1, 6}, {9, 0, 8}}, {{2, 1, 4}, {9, 0, 8}}})).evidence,
              CompareEvidence::Enough);
    EXPECT_EQ(compared(livesOf({{{1, 1, 20}}, {{2, 1, 2}}})).evidence, CompareEvidence::TooLittle);
}

TEST(Compare, RefusesScoresThatDoNotMatch) {
    EXPECT_EQ(compare(countsByStratum(kFreireich), {0, {1, 2, 3}}).error().code, ErrorCode::InvalidInput);
    EXPECT_FALSE(compare({}, {}));
    EXPECT_FALSE(compare(countsByStratum(kFreireich), {std::nan(""), {}}));
}

// All comebacks at one mileage: the permutation is that of Fisher's exact test. 4 of 5 against 0 of 5, by
// hand: (C(5,4) + C(5,4)) / C(10,4) = 10/210.
TEST(PermutationP, IsFishersExactTestAtOneMileage) {
    const Lives lives = livesOf({{{10, 1, 4}, {20, 0, 1}}, {{20, 0, 5}}});
    const auto p = permutationP(lives, {});
    ASSERT_TRUE(p) << p.error().detail;
    EXPECT_NEAR(*p, 10.0 / 210, 1e-15);
}

// Comebacks at 1, 2, 3, 4, first group {1, 2}. By hand, |U| of the six deals: {1,2} 5/6 with V = 1/4 + 2/9,
// {3,4} the same by symmetry of the labels, all others less: p = 2/6.
TEST(PermutationP, CountsEveryDealOfFourLives) {
    const auto p = permutationP(livesOf({{{1, 1}, {2, 1}}, {{3, 1}, {4, 1}}}), {});
    ASSERT_TRUE(p);
    EXPECT_NEAR(*p, 2.0 / 6, 1e-15);
}

TEST(PermutationP, DealsWithinStrataOnly) {
    Lives lives = livesOf({{{1, 1}, {5, 1}}, {{2, 1}, {6, 1}}});
    lives.stratum = {0, 1, 0, 1};
    lives.stratumNames = {"x", "y"};
    const auto p =
        permutationP(lives, {}); // four deals; U is +-1/2 in each stratum, as large when both agree
    ASSERT_TRUE(p);
    EXPECT_NEAR(*p, 0.5, 1e-15);
}

// Drawn deals against the enumerated ones of the same lives, within the error of 20,000 draws.
TEST(PermutationP, DrawsWhatItCannotEnumerate) {
    const Lives lives = livesOf({{{10, 1, 3}, {14, 0, 2}, {20, 0, 2}}, {{12, 1, 1}, {20, 0, 6}}});
    const auto all = permutationP(lives, {});
    const auto drawn = permutationP(lives, {}, {2000, 7});
    const auto again = permutationP(lives, {}, {2000, 7});
    ASSERT_TRUE(all && drawn && again);
    EXPECT_EQ(*drawn, *again);
    EXPECT_NEAR(*drawn, *all, 4 * std::sqrt(*all * (1 - *all) / 2000));
}

TEST(PermutationP, DoesNotDependOnTheOrderOfTheRows) {
    const Lives lives = livesOf({{{10, 1}, {14, 0}, {20, 0, 30}}, {{12, 1, 4}, {20, 0, 26}}});
    const Lives turned = livesOf({{{20, 0, 30}, {14, 0}, {10, 1}}, {{20, 0, 26}, {12, 1}, {12, 1, 3}}});
    EXPECT_EQ(*permutationP(lives, {}, {500, 1}), *permutationP(turned, {}, {500, 1}));
}

TEST(PermutationP, IsRefusedForFractionsAndWithoutAChiSquare) {
    EXPECT_EQ(permutationP(livesOf({{{1, 1, 0.5}}, {{2, 1}}}), {}).error().code, ErrorCode::NotEstimable);
    EXPECT_EQ(permutationP(livesOf({{{1, 1, 2}}, {{1, 1}}}), {}).error().code, ErrorCode::NotEstimable);
    EXPECT_EQ(permutationP(livesOf({{{1, 1, 2}}, {{2, 0, 30000}}}), {}).error().code,
              ErrorCode::NotEstimable);
}

// Newcombe 1998, Stat Med 17:873, table II, method 10, comparison (a): 56/70 - 48/80 = 0.2, limits 0.0524 to
// 0.3339 from Wilson limits of each.
TEST(SurvivalDifference, CombinesTheLimitsOfEachAsNewcombe1998) {
    const auto wilson = [](double p, double n) {
        const double z = 1.959963984540054;
        const double middle = (p + z * z / (2 * n)) / (1 + z * z / n);
        const double reach = z / (1 + z * z / n) * std::sqrt(p * (1 - p) / n + z * z / (4 * n * n));
        CurvePoint point;
        point.survival = p;
        point.lower = middle - reach;
        point.upper = middle + reach;
        return point;
    };
    const auto difference = survivalDifference(wilson(0.8, 70), wilson(0.6, 80));
    ASSERT_TRUE(difference);
    EXPECT_NEAR(difference->value, 0.2, 1e-15);
    EXPECT_NEAR(difference->lower, 0.0524, 5e-5);
    EXPECT_NEAR(difference->upper, 0.3339, 5e-5);
    EXPECT_EQ(survivalDifference(wilson(0.8, 70), CurvePoint()).error().code, ErrorCode::NotEstimable);
}

TEST(MeanDifference, HasNormalLimitsOfIndependentGroups) {
    const Difference difference = meanDifference({100, 60, 3}, {100, 50, 4}, 0.95);
    EXPECT_EQ(difference.value, 10);
    EXPECT_NEAR(difference.upper, 10 + 1.959963984540054 * 5, 1e-13);
    EXPECT_NEAR(difference.lower, 10 - 1.959963984540054 * 5, 1e-13);
}

} // namespace
} // namespace milehold::core
