// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/curve.h"
#include "core/survival/evidence.h"
#include "tests/core/survival/tables.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using published::livesOf;

// Nelson 1982 fans at 6100 h, where one failed and three left: with failures leaving first 0.3951204209, and
// not the 0.3971927 that swapping the two kinds gives (worked in R 4.2.2).
TEST(WatchCurve, LetsComebacksLeaveFirstAtOneMileage) {
    const auto curve = watchCurve(countsOfAll(livesOf(published::kGeneratorFan)));
    ASSERT_TRUE(curve);
    EXPECT_NEAR(curve->at(6100), 0.3951204209, 1e-10);
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
        EXPECT_NEAR(watch->at(miles) * *valueAt(*curve, counts, miles).survival,
                    counts.watchedAt(miles + 0.5) / 38, 1e-14);
}

TEST(WatchCurve, HasNoMedianWhenFewerThanHalfLeave) {
    EXPECT_FALSE(watchCurve(countsOfAll(livesOf({{10, 1, 3}, {20, 0, 1}, {30, 1, 2}})))->median);
    EXPECT_EQ(watchCurve(Counts()).error().code, ErrorCode::InvalidInput);
}

} // namespace
} // namespace milehold::core
