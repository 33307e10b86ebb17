// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/curve.h"
#include "core/survival/ends.h"
#include "tests/core/survival/tables.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

constexpr EndCode kScrapped = 2;
const std::vector<EndCode> kBoth = {kCameBack, kScrapped};

Lives table(const std::vector<double>& miles, const std::vector<EndCode>& ends) {
    Lives lives;
    lives.miles = miles;
    lives.end = ends;
    lives.endNames = {"holding", "came-back", "scrapped"};
    return lives;
}

EndCurves curvesOf(const Lives& lives) {
    const auto curves = endCurves(countsOfAll(lives, true), kBoth);
    EXPECT_TRUE(curves) << curves.error().detail;
    return curves ? *curves : EndCurves{};
}

// By hand, after Aalen & Johansen 1978: 5 lives, comeback at 10, scrapped at 20, held at 25, comeback at 30,
// scrapped at 40.
TEST(EndCurves, AreTheProductOfStayingAndEndingWorkedByHand) {
    const EndCurves curves = curvesOf(table({10, 20, 25, 30, 40}, {1, 2, 0, 1, 2}));
    EXPECT_EQ(curves.miles, (std::vector<double>{10, 20, 30, 40}));
    const double back[] = {0.2, 0.2, 0.2 + 0.6 / 2, 0.5};
    const double scrapped[] = {0, 0.2, 0.2, 0.5};
    for (std::size_t i = 0; i < 4; ++i) {
        EXPECT_NEAR(curves.ends[0].incidence[i], back[i], 1e-15);
        EXPECT_NEAR(curves.ends[1].incidence[i], scrapped[i], 1e-15);
    }
    EXPECT_EQ(curves.ends[0].count, 2);
    EXPECT_EQ(curves.ends[1].count, 2);
}

// Before anybody leaves unseen an incidence is a share, and its standard error the binomial one.
TEST(EndCurves, HaveTheBinomialErrorWhileNobodyHasLeft) {
    const EndCurves curves = curvesOf(table({10, 10, 20, 30, 50, 50, 50}, {1, 2, 1, 2, 0, 0, 0}));
    EXPECT_NEAR(curves.ends[0].se.back(), std::sqrt(2.0 / 7 * 5 / 7 / 7), 1e-15);
    EXPECT_NEAR(curves.ends[1].se[0], std::sqrt(1.0 / 7 * 6 / 7 / 7), 1e-15);
}

// O'Connor's shock absorbers by mode of failure: incidence and standard error of R survival 3.5, ten digits.
TEST(EndCurves, MatchRForTwoModesOfFailure) {
    Lives lives = published::livesOf(published::kShockAbsorber);
    lives.endNames = {"holding", "came-back", "mode-2"};
    for (const double second : {9120.0, 13150.0, 20100.0, 20900.0})
        for (std::size_t i = 0; i < lives.size(); ++i)
            if (lives.miles[i] == second && lives.cameBack(i))
                lives.end[i] = 2;
    const EndCurves curves = curvesOf(lives);
    const auto first = incidenceAt(curves, curves.ends[0], 27490);
    const auto other = incidenceAt(curves, curves.ends[1], 27490);
    EXPECT_NEAR(*first.incidence, 0.4910062175, 1e-10);
    EXPECT_NEAR(*first.se, 0.1580298552, 1e-10);
    EXPECT_NEAR(*other.incidence, 0.221617882, 1e-10);
    EXPECT_NEAR(*other.se, 0.1082063553, 1e-10);
}

TEST(EndCurves, OfOneEndAloneAreOneLessTheCurve) {
    const Lives lives = published::livesOf(published::kGeneratorFan);
    const Counts counts = countsOfAll(lives, true);
    const EndCode only[] = {kCameBack};
    const auto curves = endCurves(counts, only);
    const auto curve = survivalCurve(counts, {0.95, LimitMethod::Log});
    ASSERT_TRUE(curves && curve);
    for (std::size_t i = 0; i < curves->miles.size(); ++i) {
        const CurvePoint point = valueAt(*curve, counts, curves->miles[i]);
        EXPECT_NEAR(curves->ends[0].incidence[i], 1 - *point.survival, 1e-14);
        EXPECT_NEAR(curves->ends[0].se[i], *point.se, 1e-14);
    }
}

TEST(EndCurves, AreZeroBeforeTheFirstEndAndNothingBeyondTheWatch) {
    const EndCurves curves = curvesOf(table({10, 20}, {1, 0}));
    EXPECT_EQ(incidenceAt(curves, curves.ends[0], 5).incidence, 0);
    EXPECT_EQ(incidenceAt(curves, curves.ends[0], 20).incidence, 0.5);
    EXPECT_FALSE(incidenceAt(curves, curves.ends[0], 20.5).incidence);
    EXPECT_EQ(curves.ends[1].count, 0);
    EXPECT_EQ(incidenceAt(curves, curves.ends[1], 20).incidence, 0);
    EXPECT_EQ(incidenceAt(curves, curves.ends[1], 20).se, 0);
}

TEST(EndCurves, AreRefusedForNoLivesOrUnsplitCounts) {
    EXPECT_FALSE(endCurves(Counts(), kBoth));
    EXPECT_FALSE(endCurves(countsOfAll(table({1}, {1})), kBoth));
}

// With a single end the score of Gray 1988 is observed less expected of the log-rank test; two equal groups
// differ in nothing.
TEST(GrayTest, IsZeroForTwoEqualGroups) {
    const Counts counts = countsOfAll(table({10, 12, 20, 25, 30, 40}, {1, 2, 0, 1, 2, 0}), true);
    const Counts groups[] = {counts, counts};
    const auto test = grayTest(groups, kCameBack);
    ASSERT_TRUE(test) << test.error().detail;
    EXPECT_NEAR(test->value, 0, 1e-20);
    EXPECT_NEAR(test->p, 1, 1e-9);
    EXPECT_EQ(test->df, 1);
}

TEST(GrayTest, DoesNotDependOnTheOrderOfTheGroups) {
    const Counts a = countsOfAll(table({10, 12, 20, 25, 30, 40, 41}, {1, 2, 0, 1, 2, 0, 1}), true);
    const Counts b = countsOfAll(table({3, 12, 14, 25, 33, 35}, {1, 1, 2, 0, 1, 1}), true);
    const Counts c = countsOfAll(table({9, 13, 21, 44}, {2, 2, 1, 0}), true);
    const Counts abc[] = {a, b, c};
    const Counts cab[] = {c, a, b};
    const auto first = grayTest(abc, kCameBack);
    const auto second = grayTest(cab, kCameBack);
    ASSERT_TRUE(first && second);
    EXPECT_NEAR(first->value, second->value, 1e-12);
    EXPECT_EQ(first->df, 2);
}

TEST(GrayTest, IsRefusedInWordsWhereItDoesNotApply) {
    const Counts counts = countsOfAll(table({10, 20}, {1, 0}), true);
    const Counts one[] = {counts};
    EXPECT_EQ(grayTest(one, kCameBack).error().code, ErrorCode::NotEstimable);
    Lives late = table({10, 20}, {1, 0});
    late.entry = {0, 5};
    const Counts delayed[] = {counts, countsOfAll(late, true)};
    EXPECT_EQ(grayTest(delayed, kCameBack).error().code, ErrorCode::NotEstimable);
    const Counts none[] = {countsOfAll(table({10, 20}, {0, 0}), true),
                           countsOfAll(table({10, 20}, {0, 0}), true)};
    EXPECT_EQ(grayTest(none, kCameBack).error().code, ErrorCode::NotEstimable);
}

} // namespace
} // namespace milehold::core
