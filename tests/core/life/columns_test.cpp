// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/life.h"
#include "tests/core/support/lives.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using namespace testing_support;

TEST(LifeColumns, HoldOneRowALifeThatContributes) {
    std::vector<Life> lives = {openLife(1, km(10), km(5)), openLife(2, km(20), km(5)), failedLife(3, km(7))};
    lives[1].contributes = false;
    lives[2].vehicle = lives[0].vehicle;
    const auto columns = toColumns(lives, DistanceUnit::Kilometres);
    EXPECT_EQ(columns.lives.miles, (std::vector{10.0, 7.0}));
    EXPECT_EQ(columns.lives.end, (std::vector<EndCode>{kHolding, kCameBack}));
    EXPECT_EQ(columns.rows, (std::vector<std::size_t>{0, 2}));
    EXPECT_EQ(columns.lives.vehicle, (std::vector<std::uint32_t>{0, 0}))
        << "lives of one vehicle are one cluster";
    EXPECT_EQ(columns.lives.vehicleNames.size(), 1U);
    EXPECT_TRUE(columns.lives.entry.empty());
    EXPECT_TRUE(columns.lives.until.empty());
    EXPECT_TRUE(validate(columns.lives));
}

TEST(LifeColumns, AreInTheUnitThatIsAskedFor) {
    const std::vector<Life> lives = {openLife(1, Distance::miles(125), Distance())};
    EXPECT_DOUBLE_EQ(toColumns(lives, DistanceUnit::Miles).lives.miles[0], 125.0);
    EXPECT_DOUBLE_EQ(toColumns(lives, DistanceUnit::Kilometres).lives.miles[0], 201.168);
}

TEST(LifeColumns, NameOtherEnds) {
    std::vector<Life> lives = {openLife(1, km(10), Distance()), openLife(2, km(20), Distance()),
                               openLife(3, km(30), Distance())};
    lives[1].state = LifeState::EndedOtherwise;
    lives[1].otherEnd = OtherEnd::Replaced;
    lives[2].state = LifeState::EndedOtherwise;
    lives[2].otherEnd = OtherEnd::Scrapped;
    const auto columns = toColumns(lives, DistanceUnit::Kilometres);
    EXPECT_EQ(columns.lives.endNames,
              (std::vector<std::string>{"holding", "came-back", "replaced", "scrapped"}));
    EXPECT_EQ(columns.lives.end, (std::vector<EndCode>{kHolding, 2, 3}));
}

TEST(LifeColumns, ReadUnseenDistanceInThreeWays) {
    const std::vector<Life> lives = {openLife(1, km(10), km(5)), openLife(2, km(20), Distance())};
    const auto best = toColumns(lives, DistanceUnit::Kilometres, Reading::Best).lives;
    EXPECT_EQ(best.miles, (std::vector{15.0, 20.0}));
    EXPECT_EQ(best.end, (std::vector<EndCode>{kHolding, kHolding}));
    const auto known = toColumns(lives, DistanceUnit::Kilometres, Reading::Known).lives;
    EXPECT_EQ(known.miles, (std::vector{10.0, 20.0}));
    const auto worst = toColumns(lives, DistanceUnit::Kilometres, Reading::Worst).lives;
    EXPECT_EQ(worst.miles, (std::vector{10.001, 20.0})) << "one metre on";
    EXPECT_EQ(worst.end, (std::vector<EndCode>{kCameBack, kHolding}));
}

TEST(LifeColumns, PutAComebackOfAnIntervalWhereItWasSeenUnlessAskedToKeepIt) {
    const std::vector<Life> lives = {failedLife(1, Distance(), km(30)), failedLife(2, km(12))};
    const auto seen = toColumns(lives, DistanceUnit::Kilometres).lives;
    EXPECT_EQ(seen.miles, (std::vector{30.0, 12.0}));
    EXPECT_TRUE(seen.until.empty());
    const auto kept = toColumns(lives, DistanceUnit::Kilometres, Reading::Known, Intervals::Keep).lives;
    EXPECT_EQ(kept.miles, (std::vector{0.0, 12.0}));
    EXPECT_EQ(kept.until, (std::vector{30.0, 12.0}));
    EXPECT_TRUE(validate(kept));
    EXPECT_EQ(toColumns(lives, DistanceUnit::Kilometres, Reading::Best).lives.miles, seen.miles);
}

TEST(LifeColumns, PutAComebackOfAnIntervalRightAfterItsBeginInTheWorstReading) {
    const std::vector<Life> lives = {failedLife(1, Distance(), km(30)), failedLife(2, km(12), km(20)),
                                     failedLife(3, km(12))};
    for (const auto intervals : {Intervals::AsRead, Intervals::Keep}) {
        const auto worst = toColumns(lives, DistanceUnit::Kilometres, Reading::Worst, intervals).lives;
        EXPECT_EQ(worst.miles, (std::vector{0.001, 12.001, 12.0})) << "one metre on";
        EXPECT_TRUE(worst.until.empty());
    }
    EXPECT_EQ(toColumns(lives, DistanceUnit::Kilometres, Reading::Worst, Intervals::AtSeen).lives.miles,
              (std::vector{30.0, 20.0, 12.0}));
}

// Nobody knows why it was repaired elsewhere: harmless in the best reading, a comeback in the worst.
TEST(LifeColumns, ReadARepairElsewhereInThreeWays) {
    std::vector<Life> lives = {openLife(1, km(10), km(5)), openLife(2, km(10))};
    for (auto& life : lives) {
        life.state = LifeState::EndedOtherwise;
        life.otherEnd = OtherEnd::RepairedElsewhere;
    }
    const auto best = toColumns(lives, DistanceUnit::Kilometres, Reading::Best).lives;
    EXPECT_EQ(best.miles, (std::vector{15.0, 10.0}));
    EXPECT_EQ(best.endNames[best.end[0]], "repaired-elsewhere");
    EXPECT_EQ(toColumns(lives, DistanceUnit::Kilometres).lives.miles, (std::vector{10.0, 10.0}));
    const auto worst = toColumns(lives, DistanceUnit::Kilometres, Reading::Worst).lives;
    EXPECT_EQ(worst.miles, (std::vector{10.001, 10.001}));
    EXPECT_EQ(worst.end, (std::vector<EndCode>{kCameBack, kCameBack}));
    lives[0].otherEnd = OtherEnd::Scrapped;
    lives[0].unseen = Distance();
    EXPECT_EQ(toColumns(lives, DistanceUnit::Kilometres, Reading::Worst).lives.end[0], 2);
}

TEST(LifeColumns, KeepAnIntervalThatBeginsAtItsEntryValid) {
    std::vector<Life> lives = {failedLife(1, km(5), km(30))};
    lives[0].entry = km(5);
    const auto kept = toColumns(lives, DistanceUnit::Kilometres, Reading::Known, Intervals::Keep).lives;
    EXPECT_EQ(kept.entry, (std::vector{5.0}));
    EXPECT_EQ(kept.miles, (std::vector{5.001}));
    EXPECT_TRUE(validate(kept));
}

TEST(LifeColumns, HoldLivesOfWhichNothingIsKnownInBestAndWorstAlone) {
    std::vector<Life> lives = {openLife(1, Distance(), km(40))};
    lives[0].contributes = false;
    EXPECT_TRUE(toColumns(lives, DistanceUnit::Kilometres, Reading::Known).rows.empty());
    EXPECT_EQ(toColumns(lives, DistanceUnit::Kilometres, Reading::Best).lives.miles, (std::vector{40.0}));
    EXPECT_EQ(toColumns(lives, DistanceUnit::Kilometres, Reading::Worst).lives.miles, (std::vector{0.0}));
    lives[0].entry = km(3);
    EXPECT_TRUE(toColumns(lives, DistanceUnit::Kilometres, Reading::Worst).rows.empty());
}

} // namespace
} // namespace milehold::core
