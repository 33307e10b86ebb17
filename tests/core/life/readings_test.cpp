// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/readings.h"
#include "tests/core/support/lives.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

using namespace testing_support;

/// Four quiet past the horizon of 36,000, comebacks at 12,000 and 20,000, three lost, one quiet to 30,000.
std::vector<Life> tenRepairs() {
    std::vector<Life> lives;
    for (std::uint8_t i = 1; i <= 4; ++i)
        lives.push_back(openLife(i, km(36'000)));
    lives.push_back(failedLife(5, km(12'000)));
    lives.push_back(failedLife(6, km(20'000)));
    lives.push_back(lostLife(7, km(8'000), km(60'000), LostReason::Sold));
    lives.push_back(lostLife(8, km(15'000), km(60'000), LostReason::NoContact));
    lives.push_back(lostLife(9, km(25'000), km(60'000), LostReason::DoNotCall));
    lives.push_back(openLife(10, km(30'000)));
    return lives;
}

// Best 8/10; known 8/9 x 6/7 = 0.7619047619; worst 9/10 x 8/9 x 7/8 x 6/7 x 5/6 = 1/2. Worked by hand from
// the assumptions of Manski 1990, American Economic Review 80:319.
TEST(Readings, TakeUnseenDistanceAsQuietAsNotSeenAndAsFailedRightAway) {
    const auto curves = readingCurves(tenRepairs(), DistanceUnit::Kilometres).value();
    const ThreeReadings at = curves.at(36'000);
    EXPECT_NEAR(at.best.value(), 0.8, 1e-12);
    EXPECT_NEAR(at.known.value(), 0.7619047619, 1e-10);
    EXPECT_NEAR(at.worst.value(), 0.5, 1e-12);
}

TEST(Readings, SayNothingBeyondWhatEachOfThemWatched) {
    const auto curves = readingCurves(tenRepairs(), DistanceUnit::Kilometres).value();
    EXPECT_TRUE(curves.at(60'000).best);
    EXPECT_FALSE(curves.at(60'000).known);
    EXPECT_FALSE(curves.at(60'000).worst);
}

TEST(Readings, AreOneWhereNothingIsUnseen) {
    std::vector<Life> lives = {openLife(1, km(50)), failedLife(2, km(20)), openLife(3, km(10))};
    const auto curves = readingCurves(lives, DistanceUnit::Kilometres).value();
    for (const double at : {5.0, 20.0, 50.0}) {
        EXPECT_EQ(curves.at(at).best, curves.at(at).known);
        EXPECT_EQ(curves.at(at).worst, curves.at(at).known);
    }
}

TEST(Readings, RefuseNoLivesAndAWrongLevel) {
    EXPECT_FALSE(readingCurves({}, DistanceUnit::Miles));
    EXPECT_FALSE(readingCurves(tenRepairs(), DistanceUnit::Miles, 1.0));
}

// One comeback at 20 of four; one life unseen from 10 on. If it failed with weight q: S = (1 - q/4)(1 - 1/(4
// - q)) = (3 - q)/4 = 0.7 at q = 0.2.
TEST(TippingPoint, IsTheShareThatBringsTheClaimDown) {
    const std::vector<Life> lives = {openLife(1, km(50)), openLife(2, km(50)), failedLife(3, km(20)),
                                     openLife(4, km(10), km(40))};
    const auto point = tippingPoint(lives, DistanceUnit::Kilometres, 0.7, km(40)).value();
    EXPECT_EQ(point.verdict, TippingPoint::Verdict::Falls);
    EXPECT_NEAR(point.share.value(), 0.2, 1e-8);
    EXPECT_EQ(point.unseenLives, 1U);
    EXPECT_NEAR(point.best, 0.75, 1e-12);
    EXPECT_NEAR(point.worst, 0.5, 1e-12);
}

TEST(TippingPoint, LiesBetweenTheBestAndTheWorstReading) {
    const auto lives = tenRepairs();
    double last = 1;
    for (const double claim : {0.55, 0.6, 0.65, 0.7, 0.75, 0.79}) {
        const auto point = tippingPoint(lives, DistanceUnit::Kilometres, claim, km(36'000)).value();
        EXPECT_EQ(point.verdict, TippingPoint::Verdict::Falls);
        EXPECT_LT(point.share.value(), last) << "a bolder claim falls sooner";
        last = *point.share;
        EXPECT_NEAR(point.best, 0.8, 1e-12);
        EXPECT_NEAR(point.worst, 0.5, 1e-12);
        EXPECT_EQ(point.unseenLives, 3U);
    }
}

TEST(TippingPoint, SaysWhenTheClaimHoldsOrFailsAnyway) {
    const auto lives = tenRepairs();
    using Verdict = TippingPoint::Verdict;
    EXPECT_EQ(tippingPoint(lives, DistanceUnit::Kilometres, 0.49, km(36'000))->verdict, Verdict::HoldsAnyway);
    EXPECT_EQ(tippingPoint(lives, DistanceUnit::Kilometres, 0.81, km(36'000))->verdict, Verdict::FailsAnyway);
    const std::vector<Life> seen = {openLife(1, km(50)), openLife(2, km(60))};
    EXPECT_EQ(tippingPoint(seen, DistanceUnit::Kilometres, 0.9, km(40))->verdict, Verdict::NothingUnseen);
}

TEST(TippingPoint, RefusesWhatCannotBeAsked) {
    const auto lives = tenRepairs();
    EXPECT_EQ(tippingPoint(lives, DistanceUnit::Kilometres, 1, km(36'000)).error().code,
              ErrorCode::InvalidInput);
    EXPECT_EQ(tippingPoint(lives, DistanceUnit::Kilometres, 0.9, Distance()).error().code,
              ErrorCode::InvalidInput);
    EXPECT_EQ(tippingPoint({}, DistanceUnit::Kilometres, 0.9, km(1)).error().code, ErrorCode::InvalidInput);
    EXPECT_EQ(tippingPoint(lives, DistanceUnit::Kilometres, 0.9, km(900'000)).error().code,
              ErrorCode::NotEstimable);
}

// Known (by hand): of four one was seen back at 40 when three had left at 20: S(40) = 0. Right after its last
// quiet at 5 it would be 3/4 there. The worst reading takes the lower at each distance: 3/4 at 10, 0 at 40.
TEST(Readings, TakeTheWorsePlaceOfAComebackThatLiesInAnInterval) {
    const std::vector<Life> lives = {failedLife(1, km(5), km(40)), openLife(2, km(20)), openLife(3, km(20)),
                                     openLife(4, km(20))};
    const auto curves = readingCurves(lives, DistanceUnit::Kilometres).value();
    EXPECT_NEAR(curves.at(10).known.value(), 1, 1e-12);
    EXPECT_NEAR(curves.at(10).worst.value(), 0.75, 1e-12);
    EXPECT_NEAR(curves.at(40).known.value(), 0, 1e-12);
    EXPECT_NEAR(curves.at(40).worst.value(), 0, 1e-12);
}

TEST(TippingPoint, CountsARepairElsewhereAmongThoseThatMayHaveFailed) {
    std::vector<Life> lives = {openLife(1, km(40)), openLife(2, km(40)), openLife(3, km(10), km(5))};
    lives[2].state = LifeState::EndedOtherwise;
    lives[2].otherEnd = OtherEnd::RepairedElsewhere;
    const auto point = tippingPoint(lives, DistanceUnit::Kilometres, 0.9, km(30)).value();
    EXPECT_EQ(point.unseenLives, 1U);
    EXPECT_NEAR(point.best, 1, 1e-12);
    EXPECT_NEAR(point.worst, 2.0 / 3, 1e-12);
    EXPECT_EQ(point.verdict, TippingPoint::Verdict::Falls);
}

} // namespace
} // namespace milehold::core
