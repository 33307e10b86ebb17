// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/curve.h"
#include "core/survival/evidence.h"
#include "tests/core/survival/tables.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using published::livesOf;

double followingAt(const WatchCurve& curve, double miles) {
    double value = 1;
    for (std::size_t i = 0; i < curve.miles.size() && curve.miles[i] <= miles; ++i)
        value = curve.following[i];
    return value;
}

// Nelson 1982 fans at 6100 h, where one failed and three left: with failures leaving first 0.3951204209, and
// not the 0.3971927 that swapping the two kinds gives (worked in R 4.2.2).
TEST(WatchCurve, LetsComebacksLeaveFirstAtOneMileage) {
    const auto curve = watchCurve(countsOfAll(livesOf(published::kGeneratorFan)));
    ASSERT_TRUE(curve);
    EXPECT_NEAR(followingAt(*curve, 6100), 0.3951204209, 1e-10);
    EXPECT_EQ(curve->median, 5000);
}

// Staying quiet and being followed together: the share watched beyond a mileage, exactly.
TEST(WatchCurve, TimesTheCurveIsTheShareStillWatched) {
    const Lives lives = livesOf(published::kShockAbsorber);
    const Counts counts = countsOfAll(lives);
    const auto watch = watchCurve(counts);
    const auto curve = survivalCurve(counts, {0.95, LimitMethod::Log});
    ASSERT_TRUE(watch && curve);
    for (const double miles : {9000.0, 13000.0, 20100.0, 26510.0})
        EXPECT_NEAR(followingAt(*watch, miles) * *valueAt(*curve, counts, miles).survival,
                    counts.watchedAt(miles + 0.5) / 38, 1e-14);
}

TEST(WatchCurve, HasNoMedianWhenFewerThanHalfLeave) {
    EXPECT_FALSE(watchCurve(countsOfAll(livesOf({{10, 1, 3}, {20, 0, 1}, {30, 1, 2}})))->median);
    EXPECT_EQ(watchCurve(Counts()).error().code, ErrorCode::InvalidInput);
}

// Clark et al. 2002: observed over observed and missed, by hand.
TEST(Completeness, IsKnownOverKnownAndUnseenWithinTheHorizon) {
    const double known[] = {10000, 40000, 0, 25000};
    const double unseen[] = {5000, 30000, 70000, 0};
    const auto all = completeness(known, unseen, 1e9);
    ASSERT_TRUE(all);
    EXPECT_NEAR(*all->share(), 75000.0 / 180000, 1e-15);
    const auto within = completeness(known, unseen, 30000);
    ASSERT_TRUE(within);
    EXPECT_EQ(within->known, 65000);
    EXPECT_EQ(within->unseen, 5000 + 0 + 30000);
}

TEST(Completeness, IsNothingWithoutMilesAndRefusesNegativeOnes) {
    const double none[] = {0.0};
    const double negative[] = {-1.0};
    EXPECT_FALSE(completeness(none, none, 10)->share());
    EXPECT_FALSE(completeness(negative, none, 10));
    EXPECT_FALSE(completeness(none, none, 0));
    EXPECT_FALSE(completeness(none, {}, 10));
}

} // namespace
} // namespace milehold::core
