// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/evidence.h"
#include "core/survival/evidence.h"
#include "tests/core/support/lives.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using namespace testing_support;

/// Ten repairs: four followed past a horizon of 36,000, comebacks at 12,000 and 20,000, three lost at 8,000,
/// 15,000 and 25,000, one followed to 30,000 where it is now.
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

// Observed 254,000 of 314,000 possible: 0.8089171975. Source: the definition of Clark, Altman & De Stavola
// 2002, Lancet 359:1309; worked by hand.
TEST(Evidence, IsClarksCompletenessWithinTheHorizon) {
    const auto evidence = evidenceOf(tenRepairs(), DistanceUnit::Kilometres, km(36'000)).value();
    EXPECT_NEAR(evidence.completeness.value(), 0.8089171975, 1e-10);
    EXPECT_NEAR(evidence.known, 254'000, 1e-6);
    EXPECT_EQ(evidence.unseen, (UnseenByReason{0, 28'000, 11'000, 21'000}));
}

TEST(Evidence, CountsStatesAndReasons) {
    auto lives = tenRepairs();
    lives[0].state = LifeState::NeverHeld;
    lives[1].state = LifeState::EndedOtherwise;
    lives[2].contributes = false;
    const auto evidence = evidenceOf(lives, DistanceUnit::Kilometres).value();
    EXPECT_EQ(evidence.lives, 10U);
    EXPECT_EQ(evidence.contributing, 9U);
    EXPECT_EQ(evidence.holding, 3U);
    EXPECT_EQ(evidence.cameBack, 2U);
    EXPECT_EQ(evidence.neverHeld, 1U);
    EXPECT_EQ(evidence.endedOtherwise, 1U);
    EXPECT_EQ(evidence.lostSight, 3U);
    EXPECT_EQ(evidence.sold, 1U);
    EXPECT_EQ(evidence.doNotCall, 1U);
    EXPECT_EQ(evidence.noContact, 1U);
    EXPECT_NEAR(evidence.unseen.all(), 180'000, 1e-6) << "no horizon: all of it";
}

// Quiet to 10,000 and heard noisy at 30,000: nobody knows of the 20,000 between; likewise up to a repair
// elsewhere. Observed 20,000 of 45,000 by the definition of Clark et al. 2002, worked by hand.
TEST(Evidence, CountsDistanceBeforeAComebackThatNobodyCheckedAsUnseen) {
    std::vector<Life> lives = {failedLife(1, km(10'000), km(30'000)), openLife(2, km(10'000), km(5'000))};
    lives[1].state = LifeState::EndedOtherwise;
    lives[1].otherEnd = OtherEnd::RepairedElsewhere;
    const auto evidence = evidenceOf(lives, DistanceUnit::Kilometres).value();
    EXPECT_EQ(evidence.unseen, (UnseenByReason{0, 0, 0, 0, 25'000}));
    EXPECT_NEAR(evidence.completeness.value(), 20.0 / 45, 1e-12);
    const auto within = evidenceOf(lives, DistanceUnit::Kilometres, km(12'000)).value();
    EXPECT_NEAR(within.unseen.beforeEnd, 4'000, 1e-9);
}

TEST(Evidence, CountsAsFollowedWhatCameBackOrWasQuietPastItsEntry) {
    std::vector<Life> lives = {openLife(1, km(30)), openLife(2, Distance(), km(10)),
                               failedLife(3, Distance()), openLife(4, km(20))};
    lives[3].entry = km(20);
    const auto evidence = evidenceOf(lives, DistanceUnit::Kilometres).value();
    EXPECT_EQ(evidence.contributing, 4U);
    EXPECT_EQ(evidence.followed, 2U);
}

TEST(Evidence, CountsNothingBeforeALifeWasWatched) {
    auto life = openLife(1, km(30), km(10));
    life.entry = km(20);
    const auto evidence = evidenceOf(std::vector{life}, DistanceUnit::Kilometres, km(25)).value();
    EXPECT_NEAR(evidence.known, 5, 1e-9);
    EXPECT_NEAR(evidence.unseen.all(), 0, 1e-9);
}

TEST(Evidence, CountsUnseenDistanceOfLivesThatContributeNothing) {
    auto life = openLife(1, Distance(), km(40));
    life.contributes = false;
    const auto evidence = evidenceOf(std::vector{life}, DistanceUnit::Kilometres).value();
    EXPECT_EQ(evidence.completeness, 0.0);
    EXPECT_FALSE(evidence.medianWatch);
}

TEST(Evidence, OfNothingIsNotKnown) {
    const auto evidence = evidenceOf({}, DistanceUnit::Miles).value();
    EXPECT_FALSE(evidence.completeness);
    EXPECT_FALSE(evidence.medianWatch);
    EXPECT_FALSE(evidenceOf({}, DistanceUnit::Miles, Distance()));
}

struct Group {
    double hours;
    bool failed;
    int count;
};

// Fans of 70 diesel generators, hours. Source: Nelson 1982, Applied Life Data Analysis, p. 133.
std::vector<Group> fans() {
    return {{450, true, 1},    {460, false, 1},  {1150, true, 2},  {1560, false, 1}, {1600, true, 1},
            {1660, false, 1},  {1850, false, 5}, {2030, false, 3}, {2070, true, 2},  {2080, true, 1},
            {2200, false, 1},  {3000, false, 4}, {3100, true, 1},  {3200, false, 1}, {3450, true, 1},
            {3750, false, 2},  {4150, false, 4}, {4300, false, 4}, {4600, true, 1},  {4850, false, 4},
            {5000, false, 3},  {6100, false, 3}, {6100, true, 1},  {6300, false, 1}, {6450, false, 2},
            {6700, false, 1},  {7450, false, 1}, {7800, false, 2}, {8100, false, 2}, {8200, false, 1},
            {8500, false, 3},  {8750, false, 2}, {8750, true, 1},  {9400, false, 1}, {9900, false, 1},
            {10100, false, 3}, {11500, false, 1}};
}

// Comebacks leave first: the factor at 6,100 is 1 - c/(n - d), which gives 0.3951204209 (with 1 - c/n it
// would be 0.3971927308). Source: the reversed product limit of Schemper & Smith 1996, worked in R.
TEST(MedianWatch, LetsComebacksLeaveFirst) {
    Lives lives;
    for (const auto& group : fans())
        for (int i = 0; i < group.count; ++i) {
            lives.miles.push_back(group.hours);
            lives.end.push_back(group.failed ? kCameBack : kHolding);
        }
    const Counts counts = countsOfAll(lives);
    EXPECT_NEAR(watchCurve(counts)->at(6'100), 0.3951204209, 1e-10);
    EXPECT_NEAR(watchCurve(counts)->at(459), 1, 1e-15);
}

// Median 5,000 hours. Source: R survival 3.5-3, survfit of the reversed status.
TEST(MedianWatch, AgreesWithTheReversedCurve) {
    std::vector<Life> lives;
    for (const auto& group : fans())
        for (int i = 0; i < group.count; ++i) {
            const auto at = km(static_cast<std::int64_t>(group.hours)); // hours written as kilometres
            lives.push_back(group.failed ? failedLife(1, at) : openLife(1, at));
        }
    EXPECT_NEAR(evidenceOf(lives, DistanceUnit::Kilometres)->medianWatch.value(), 5'000, 1e-9);
}

TEST(MedianWatch, IsTheMiddleOfAStretchAtExactlyOneHalf) {
    const std::vector<Life> lives = {openLife(1, km(10)), openLife(2, km(20)), openLife(3, km(30)),
                                     openLife(4, km(40))};
    EXPECT_NEAR(evidenceOf(lives, DistanceUnit::Kilometres)->medianWatch.value(), 25, 1e-12);
    const std::vector<Life> failed = {failedLife(1, km(10)), openLife(2, km(5))};
    EXPECT_NEAR(evidenceOf(failed, DistanceUnit::Kilometres)->medianWatch.value(), 7.5, 1e-12)
        << "one of two left at 5, and nothing leaves after: the middle of what was watched";
}

} // namespace
} // namespace milehold::core
