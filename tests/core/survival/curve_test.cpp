// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/curve.h"
#include "tests/core/survival/tables.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

using published::livesOf;

Curve curveOf(const Lives& lives, LimitMethod limits = LimitMethod::LogLog, double level = 0.95) {
    const auto curve = survivalCurve(countsOfAll(lives), {level, limits});
    EXPECT_TRUE(curve) << curve.error().detail;
    return curve ? *curve : Curve{};
}

CurvePoint at(const Lives& lives, double miles, LimitMethod limits = LimitMethod::LogLog) {
    return valueAt(curveOf(lives, limits), countsOfAll(lives), miles);
}

// Miller 1981, p. 49, as exact fractions.
TEST(SurvivalCurve, MatchesMiller1981MaintainedArm) {
    const Lives lives = livesOf(published::kMaintained);
    const struct {
        double week, survival;
    } expected[] = {{9, 10.0 / 11},  {13, 9.0 / 11},   {18, 63.0 / 88}, {23, 27.0 / 44},
                    {31, 27.0 / 55}, {34, 81.0 / 220}, {48, 81.0 / 440}};
    for (const auto& e : expected)
        EXPECT_NEAR(*at(lives, e.week).survival, e.survival, 1e-15) << e.week;
    EXPECT_NEAR(*at(lives, 8.9).survival, 1, 0);
    EXPECT_NEAR(*at(lives, 161).survival, 81.0 / 440, 1e-15);
}

// Freireich et al. 1963: S and Greenwood's standard error as tabulated by Kleinbaum & Klein 2005, Survival
// Analysis, ch. 2 (four decimals), and by hand at 6 weeks: S = 6/7, se = S sqrt(3/(21 18)).
TEST(SurvivalCurve, MatchesFreireich1963) {
    const Lives lives = livesOf(published::kMercaptopurine);
    const struct {
        double week, survival, se;
    } expected[] = {{6, 0.8571, 0.0764},  {7, 0.8067, 0.0869},  {10, 0.7529, 0.0963}, {13, 0.6902, 0.1068},
                    {16, 0.6275, 0.1141}, {22, 0.5378, 0.1282}, {23, 0.4482, 0.1346}};
    for (const auto& e : expected) {
        EXPECT_NEAR(*at(lives, e.week).survival, e.survival, 5e-5);
        EXPECT_NEAR(*at(lives, e.week).se, e.se, 5e-5);
    }
    EXPECT_NEAR(*at(lives, 6).se, 6.0 / 7 * std::sqrt(3.0 / (21 * 18)), 1e-15);
    EXPECT_EQ(at(lives, 6).watched, 21);
    EXPECT_EQ(at(lives, 7).watched, 17);
    const CurveQuantile median = quantile(curveOf(lives), 0.5);
    EXPECT_EQ(median.miles, 23);
}

// By the formulas of Kalbfleisch & Prentice 2002, section 1.4, at S = 6/7; z = 1.959963984540054.
TEST(SurvivalCurve, HasLinearLogAndLogLogLimits) {
    const Lives lives = livesOf(published::kMercaptopurine);
    const double z = 1.959963984540054;
    const double s = 6.0 / 7;
    const double se = s * std::sqrt(3.0 / (21 * 18));
    EXPECT_NEAR(*at(lives, 6, LimitMethod::Linear).lower, s - z * se, 1e-14);
    EXPECT_EQ(*at(lives, 6, LimitMethod::Linear).upper, 1);
    EXPECT_NEAR(*at(lives, 6, LimitMethod::Log).lower, s * std::exp(-z * se / s), 1e-14);
    const double c = z * se / (s * std::fabs(std::log(s)));
    EXPECT_NEAR(*at(lives, 6).lower, std::pow(s, std::exp(c)), 1e-14);
    EXPECT_NEAR(*at(lives, 6).upper, std::pow(s, std::exp(-c)), 1e-14);
}

// The quick way for many lives against the formula as it stands.
TEST(SurvivalCurve, HasTheSameLogLogLimitsWithManyLives) {
    Lives lives;
    for (int i = 0; i < 20000; ++i) {
        lives.miles.push_back(i / 2);
        lives.end.push_back(i % 3 == 0 ? kCameBack : kHolding);
    }
    const Curve curve = curveOf(lives);
    const double z = 1.959963984540054;
    for (std::size_t i = curve.limitsBegin; i < curve.limitsEnd; i += 37) {
        const double s = curve.survival[i];
        const double c = z * curve.se[i] / (s * std::fabs(std::log(s)));
        EXPECT_NEAR(curve.lower[i], std::pow(s, std::exp(c)), 1e-13);
        EXPECT_NEAR(curve.upper[i], std::pow(s, std::exp(-c)), 1e-13);
    }
}

TEST(SurvivalCurve, HasNoErrorNorLimitsAtZeroAndNoLogLogLimitsAtOne) {
    Lives lives;
    lives.miles = {5, 10, 20};
    lives.end = {kHolding, kCameBack, kCameBack};
    const Curve curve = curveOf(lives);
    EXPECT_EQ(curve.step(0).survival, 1);
    EXPECT_EQ(curve.step(0).se, 0);
    EXPECT_FALSE(curve.step(0).lower);
    EXPECT_TRUE(curve.step(1).lower);
    EXPECT_EQ(curve.step(2).survival, 0);
    EXPECT_FALSE(curve.step(2).se);
    EXPECT_FALSE(curve.step(2).lower);
    EXPECT_FALSE(curve.step(2).upper);
    const Curve linear = curveOf(lives, LimitMethod::Linear);
    EXPECT_EQ(linear.step(0).lower, 1);
    EXPECT_EQ(linear.step(0).upper, 1);
}

// Convention 6: an event at 0 is an event at 0.
TEST(SurvivalCurve, DropsAtZeroWhenARepairNeverHeld) {
    Lives lives;
    lives.miles = {0, 0, 10, 20};
    lives.end = {kCameBack, kHolding, kHolding, kHolding};
    EXPECT_EQ(at(lives, 0).survival, 0.75);
    EXPECT_EQ(at(lives, 0).watched, 4);
    EXPECT_EQ(at(lives, 1).watched, 2);
}

// Convention 2: a repair that ends at t is still watched at t.
TEST(SurvivalCurve, TakesComebacksBeforeEndsAtOneMileage) {
    Lives lives;
    lives.miles = {10, 10, 10};
    lives.end = {kHolding, kCameBack, kHolding};
    EXPECT_NEAR(*at(lives, 10).survival, 2.0 / 3, 1e-15);
}

// Convention 3, worked by hand: entering at 10 is not being watched at 10.
TEST(SurvivalCurve, DoesNotWatchALifeAtTheMileageOfItsEntry) {
    Lives lives;
    lives.miles = {10, 20, 30};
    lives.end = {kCameBack, kCameBack, kCameBack};
    lives.entry = {0, 10, 0};
    EXPECT_EQ(at(lives, 10).survival, 0.5);
    EXPECT_EQ(at(lives, 20).survival, 0.25);
}

TEST(SurvivalCurve, StaysAtZeroOnceAnEarlyWatchedSetHasAllComeBack) {
    Lives lives;
    lives.miles = {5, 20, 30};
    lives.end = {kCameBack, kCameBack, kHolding};
    lives.entry = {0, 8, 9};
    const Curve curve = curveOf(lives, LimitMethod::Exact);
    EXPECT_EQ(curve.step(0).survival, 0);
    EXPECT_EQ(curve.step(2).survival, 0);
    EXPECT_FALSE(curve.step(2).se);
    EXPECT_EQ(curve.step(2).lower, 0);
}

// Nelson 1969: H = sum d/n and its variance sum d/n^2, by hand.
TEST(SurvivalCurve, AddsUpTheCumulativeHazard) {
    const Curve curve = curveOf(livesOf(published::kMaintained));
    const double hazard = 1.0 / 11 + 1.0 / 10 + 1.0 / 8;
    EXPECT_NEAR(curve.step(2).cumulativeHazard, hazard, 1e-15);
    EXPECT_NEAR(curve.step(2).cumulativeHazardSe, std::sqrt(1.0 / 121 + 1.0 / 100 + 1.0 / 64), 1e-15);
}

// Convention 7: where S is exactly 1 - p, the middle of the stretch; never reached is nothing.
TEST(Quantile, TakesTheMiddleOfAStretchThatIsExactlyThere) {
    Lives lives;
    lives.miles = {10, 20, 30, 40};
    lives.end = {kCameBack, kCameBack, kCameBack, kHolding};
    EXPECT_EQ(quantile(curveOf(lives), 0.5).miles, 25);
    EXPECT_EQ(quantile(curveOf(lives), 0.25).miles, 15);
    EXPECT_EQ(quantile(curveOf(lives), 0.75).miles, 35); // never drops again: the middle to the last mileage
    EXPECT_FALSE(quantile(curveOf(lives), 0.76).miles);
}

// Median of both arms together, 27 weeks, with log limits 18 to 45: print(survfit(Surv(time, status) ~ 1,
// aml)) of R survival 3.5.
TEST(Quantile, HasLimitsByInvertingTheBand) {
    std::vector<published::Life> both = published::kMaintained;
    both.insert(both.end(), published::kNotMaintained.begin(), published::kNotMaintained.end());
    const CurveQuantile median = quantile(curveOf(livesOf(both), LimitMethod::Log), 0.5);
    EXPECT_EQ(median.miles, 27);
    EXPECT_EQ(median.lower, 18);
    EXPECT_EQ(median.upper, 45);
}

TEST(SurvivalCurve, EndsAtTheLastWatchedMileage) {
    const Lives lives = livesOf(published::kMaintained);
    const CurvePoint beyond = at(lives, 161.5);
    EXPECT_FALSE(beyond.survival);
    EXPECT_FALSE(beyond.se);
    EXPECT_FALSE(beyond.lower);
    EXPECT_FALSE(beyond.upper);
    EXPECT_EQ(beyond.watched, 0);
}

// With nobody leaving early S falls linearly in steps: the area to the end is the plain mean and its standard
// error is sqrt(sum of squares about the mean) / n (Irwin 1949).
TEST(RestrictedMean, IsThePlainMeanWhenAllCameBack) {
    Lives lives;
    lives.miles = {3, 8, 10, 14, 25};
    lives.end.assign(5, kCameBack);
    const auto mean = restrictedMean(curveOf(lives), 25);
    ASSERT_TRUE(mean);
    EXPECT_NEAR(mean->mean, 12, 1e-14);
    EXPECT_NEAR(mean->se, std::sqrt(81 + 16 + 4 + 4 + 169.0) / 5, 1e-14);
}

// Nelson 1982 fans, area to 8000 h: 6968.156106 with standard error 285.4756486 (survival:::survmean of R
// survival 3.5).
TEST(RestrictedMean, MatchesRForTheGeneratorFans) {
    const auto mean = restrictedMean(curveOf(livesOf(published::kGeneratorFan)), 8000);
    ASSERT_TRUE(mean);
    EXPECT_NEAR(mean->mean, 6968.156106, 1e-6);
    EXPECT_NEAR(mean->se, 285.4756486, 1e-7);
}

TEST(RestrictedMean, IsRefusedBeyondTheLongestWatch) {
    const Curve curve = curveOf(livesOf(published::kMaintained));
    for (const double tau : {161.5, 0.0, -1.0, std::nan("")}) {
        const auto mean = restrictedMean(curve, tau);
        ASSERT_FALSE(mean);
        EXPECT_EQ(mean.error().code, ErrorCode::InvalidInput);
    }
}

// S(t)/S(u) from those who go beyond u, by hand: beyond 13 weeks 8 are watched.
TEST(ConditionalCurve, RestartsBeyondTheMilesAlreadyRun) {
    const Counts counts = countsOfAll(livesOf(published::kMaintained));
    const double at[] = {13, 18, 34, 5, 200};
    const auto conditional = conditionalCurve(counts, 13, at, {0.95, LimitMethod::LogLog});
    ASSERT_TRUE(conditional);
    EXPECT_EQ(conditional->at[0].survival, 1);
    EXPECT_NEAR(*conditional->at[1].survival, 7.0 / 8, 1e-15);
    EXPECT_NEAR(*conditional->at[2].survival, (81.0 / 220) / (9.0 / 11), 1e-15);
    EXPECT_NEAR(*conditional->at[1].se, 7.0 / 8 * std::sqrt(1.0 / 56), 1e-15);
    EXPECT_FALSE(conditional->at[3].survival);
    EXPECT_FALSE(conditional->at[4].survival);
    EXPECT_FALSE(conditionalCurve(counts, 161, at));
    EXPECT_FALSE(conditionalCurve(counts, -1, at));
}

TEST(SurvivalCurve, IsRefusedForNoLivesOrAnImpossibleLevel) {
    EXPECT_EQ(survivalCurve(Counts()).error().code, ErrorCode::InvalidInput);
    const Counts counts = countsOfAll(livesOf(published::kMaintained));
    for (const double level : {0.0, 1.0, -0.5, std::nan("")})
        EXPECT_FALSE(survivalCurve(counts, {level, LimitMethod::Log}));
}

} // namespace
} // namespace milehold::core
