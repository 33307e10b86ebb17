// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/beta_quantile.h"
#include "core/survival/curve.h"
#include "tests/core/survival/tables.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

using published::livesOf;

CurvePoint at(const Lives& lives, double miles, LimitMethod limits = LimitMethod::Exact) {
    const auto curve = survivalCurve(countsOfAll(lives), {0.95, limits});
    EXPECT_TRUE(curve);
    return valueAt(*curve, countsOfAll(lives), miles);
}

// qbeta() of R 4.2.2.
TEST(BetaQuantile, MatchesR) {
    const struct {
        double p, a, b, lower, upper;
    } expected[] = {{0.025, 100, 3, 0.93096078780104352, 0.99389302613757147},
                    {0.025, 5000, 2, 0.99888640323720601, 0.9999515641607839},
                    {0.025, 1e5, 40, 0.99946710313575815, 0.99971433065709181},
                    {0.025, 300, 300, 0.46003976932818846, 0.53996023067181154},
                    {0.025, 2e5, 5e4, 0.79842976133968524, 0.80156569232807584},
                    {0.025, 30, 1e4, 0.0020191168083199232, 0.0041502209769093855},
                    {0.005, 1000, 1000, 0.47122163078631296, 0.52877836921368704},
                    {0.25, 50, 70, 0.38603029146706708, 0.44679942021401753},
                    {0.025, 0.5, 0.5, 0.0015413331334360124, 0.99845866686656404},
                    {0.025, 2.5, 1, 0.22865252596366317, 0.98992398345177923},
                    {1e-6, 800, 900, 0.413474655429586, 0.5281982868250239}};
    for (const auto& e : expected) {
        EXPECT_NEAR(BetaQuantile(e.p, BetaQuantile::Tail::Lower)({e.a, e.b}), e.lower, 1e-11 * e.lower)
            << e.a;
        EXPECT_NEAR(BetaQuantile(e.p, BetaQuantile::Tail::Upper)({e.a, e.b}), e.upper, 1e-11) << e.a;
    }
}

// Where the expansion takes over from the incomplete beta nothing jumps: symmetry holds across, and one
// parameter more moves the quantile one way.
TEST(BetaQuantile, IsMonotoneAndSymmetricAcrossItsMethods) {
    const BetaQuantile lower(0.025, BetaQuantile::Tail::Lower);
    const BetaQuantile upper(0.025, BetaQuantile::Tail::Upper);
    for (const double other : {20.0, 90.0, 400.0, 5e4}) {
        double last = 0;
        for (double a = 1; a < 2000; a *= 1.02) {
            const double q = lower({a, other});
            EXPECT_GT(q, last);
            EXPECT_NEAR(q, 1 - upper({other, a}), 2e-12);
            last = q;
        }
    }
}

TEST(BetaQuantile, OfAPointIsThePoint) {
    const BetaQuantile lower(0.025, BetaQuantile::Tail::Lower);
    EXPECT_EQ(lower(Beta{5, 0}), 1);
    EXPECT_EQ(lower(Beta{0, 1}), 0);
}

// Clopper & Pearson 1934, Biometrika 26:404: 2 of 10 and 3 of 20 failed; binom.test() of R 4.2.2, ten digits.
TEST(ExactLimits, AreClopperPearsonWhenNobodyLeavesEarly) {
    const struct {
        int n, failed;
        double failedLower, failedUpper;
    } expected[] = {{10, 1, 0.002528578544, 0.445016117},
                    {10, 2, 0.02521072633, 0.5560954623},
                    {20, 3, 0.03207093719, 0.3789268265}};
    for (const auto& e : expected) {
        Lives lives;
        for (int i = 0; i < e.n; ++i) {
            lives.miles.push_back(i < e.failed ? 10 * (i + 1) : 100);
            lives.end.push_back(i < e.failed ? kCameBack : kHolding);
        }
        const CurvePoint point = at(lives, 50);
        EXPECT_NEAR(*point.lower, 1 - e.failedUpper, 2e-10);
        EXPECT_NEAR(*point.upper, 1 - e.failedLower, 2e-10);
    }
}

// With no comeback yet: (alpha/2)^(1/watched), and 1.
TEST(ExactLimits, AreAPowerWithoutAComeback) {
    Lives lives;
    lives.miles = {1, 2, 3};
    lives.end.assign(3, kHolding);
    EXPECT_NEAR(*at(lives, 0.5).lower, std::pow(0.025, 1.0 / 3), 1e-14);
    EXPECT_NEAR(*at(lives, 1).lower, std::pow(0.025, 1.0 / 2), 1e-14);
    EXPECT_NEAR(*at(lives, 2.5).lower, 0.025, 1e-14);
    EXPECT_EQ(*at(lives, 3).lower, 0);
    EXPECT_EQ(*at(lives, 2.5).upper, 1);
    EXPECT_NEAR(*at(lives, 2.5, LimitMethod::ExactMidP).lower, 0.05, 1e-14);
}

// Comebacks at 1, 3, 5, ends at 2, 4. W- after 1 is Beta(5,1), after 3 Beta(5,1) Beta(3,1): moments by hand,
// quantiles by qbeta() of R 4.2.2 after Fay, Brittain & Proschan 2013.
TEST(ExactLimits, MatchTheStepsOfThePaperOnFiveLives) {
    Lives lives;
    lives.miles = {1, 2, 3, 4, 5};
    lives.end = {kCameBack, kHolding, kCameBack, kHolding, kCameBack};
    const struct {
        double miles, lower, upper;
    } expected[] = {{0.5, 0.4781762499, 1},           {1, 0.2835820639, 0.9949492366},
                    {2, 0.2205081767, 0.9949492366},  {3, 0.075191376, 0.9407842482},
                    {4, 0.01758289248, 0.9407842482}, {5, 0, 0.7824880416}};
    for (const auto& e : expected) {
        EXPECT_NEAR(*at(lives, e.miles).lower, e.lower, 1e-10) << e.miles;
        EXPECT_NEAR(*at(lives, e.miles).upper, e.upper, 1e-10) << e.miles;
    }
}

// Field tables of published.h: package bpcp of CRAN (commit 8a4c3ee), method of moments, ten digits.
TEST(ExactLimits, MatchAnIndependentProgramOnFieldData) {
    const struct {
        const std::vector<published::Life>& table;
        double miles, lower, upper;
    } expected[] = {{published::kShockAbsorber, 12200, 0.7432388627, 0.981272957},
                    {published::kShockAbsorber, 20000, 0.5373387215, 0.918833588},
                    {published::kShockAbsorber, 27490, 0.04409821065, 0.6384982062},
                    {published::kGeneratorFan, 2000, 0.8547123625, 0.9839796804},
                    {published::kGeneratorFan, 6100, 0.6302328876, 0.8975650917},
                    {published::kGeneratorFan, 8750, 0.3765695816, 0.874087744},
                    {published::kBearingCage, 1009, 0.9770355312, 0.9978654993},
                    {published::kVehicleComponent, 50000, 0.436543917, 0.867113549}};
    for (const auto& e : expected) {
        const CurvePoint point = at(livesOf(e.table), e.miles);
        EXPECT_NEAR(*point.lower, e.lower, 1e-10);
        EXPECT_NEAR(*point.upper, e.upper, 1e-10);
    }
}

// The even mixture of Beta(5,1) and the beta matched to Beta(5,1) Beta(4,1), solved by uniroot() of R 4.2.2
// to 1e-14.
TEST(ExactLimits, HaveAMidPFormThatIsNarrower) {
    Lives lives;
    lives.miles = {1, 2, 3, 4, 5};
    lives.end = {kCameBack, kHolding, kCameBack, kHolding, kCameBack};
    const CurvePoint point = at(lives, 1, LimitMethod::ExactMidP);
    EXPECT_NEAR(*point.lower, 0.334439541536, 1e-11);
    EXPECT_NEAR(*point.upper, 0.989998018767, 1e-11);
    for (const double miles : {0.5, 1.0, 2.0, 3.0, 4.0}) {
        EXPECT_GE(*at(lives, miles, LimitMethod::ExactMidP).lower, *at(lives, miles).lower);
        EXPECT_LE(*at(lives, miles, LimitMethod::ExactMidP).upper, *at(lives, miles).upper);
    }
}

TEST(ExactLimits, OfOneLifeAreThoseOfOneTrial) {
    Lives lives;
    lives.miles = {5};
    lives.end = {kCameBack};
    EXPECT_NEAR(*at(lives, 4).lower, 0.025, 1e-15);
    EXPECT_NEAR(*at(lives, 5).upper, 0.975, 1e-15);
    EXPECT_EQ(*at(lives, 5).lower, 0);
    EXPECT_NEAR(*at(lives, 5, LimitMethod::ExactMidP).upper, 0.95, 1e-15);
}

} // namespace
} // namespace milehold::core
