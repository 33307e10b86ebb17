// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/counts.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using Columns = std::vector<double>;

Lives delayed() {
    Lives lives;
    lives.miles = {30, 10, 30, 50, 0, 30};
    lives.end = {kCameBack, kHolding, kHolding, kCameBack, kCameBack, 2};
    lives.entry = {10, 0, 0, 30, 0, 5};
    lives.endNames = {"holding", "came-back", "scrapped"};
    return lives;
}

TEST(Counts, AddUpWhatHappenedAtEachDistinctMileage) {
    const Counts counts = countsOfAll(delayed());
    EXPECT_EQ(counts.miles, (Columns{0, 10, 30, 50}));
    EXPECT_EQ(counts.comebacks, (Columns{1, 0, 1, 1}));
    EXPECT_EQ(counts.left, (Columns{0, 1, 2, 0}));
    EXPECT_EQ(counts.entryMiles, (Columns{5, 10, 30}));
    EXPECT_EQ(counts.entered, (Columns{1, 1, 1}));
    EXPECT_EQ(counts.lives(), 6);
    EXPECT_EQ(counts.allComebacks(), 3);
    EXPECT_EQ(counts.longestWatched(), 50);
}

// Conventions 2 and 3: watched over (entry, miles], counted just before.
TEST(Counts, WatchALifeFromJustAfterItsEntryToItsMiles) {
    const Counts counts = countsOfAll(delayed());
    EXPECT_EQ(counts.watched(), (Columns{3, 3, 3, 1}));
    EXPECT_EQ(counts.watchedAt(0), 3);
    EXPECT_EQ(counts.watchedAt(5), 2);
    EXPECT_EQ(counts.watchedAt(5.5), 3);
    EXPECT_EQ(counts.watchedAt(30), 3);
    EXPECT_EQ(counts.watchedAt(30.5), 1);
    EXPECT_EQ(counts.watchedAt(51), 0);
}

TEST(Counts, SplitThoseWhoLeftByTheirEnd) {
    const Counts counts = countsOfAll(delayed(), true);
    ASSERT_EQ(counts.leftBy.size(), 3U);
    EXPECT_EQ(counts.leftBy[kHolding], (Columns{0, 1, 1, 0}));
    EXPECT_TRUE(counts.leftBy[kCameBack].empty());
    EXPECT_EQ(counts.leftBy[2], (Columns{0, 0, 1, 0}));
    EXPECT_EQ(counts.left, (Columns{0, 1, 2, 0}));
}

TEST(Counts, AreTheSameFromGroupedRowsInAnyOrder) {
    const CountRow rows[] = {{5, 30, 2, 1},        {0, 0, kCameBack, 1},   {30, 50, kCameBack, 1},
                             {0, 10, kHolding, 1}, {10, 30, kCameBack, 1}, {0, 30, kHolding, 1},
                             {0, 99, kHolding, 0}};
    EXPECT_EQ(countsFromRows(rows, true), countsOfAll(delayed(), true));
    EXPECT_EQ(countsFromRows(rows), countsOfAll(delayed()));
}

TEST(Counts, AreTheSameForWholeAndForFractionalMileages) {
    Lives whole = delayed();
    Lives halves = whole;
    for (Columns* column : {&halves.miles, &halves.entry})
        for (double& miles : *column)
            miles *= 0.5;
    Counts counts = countsOfAll(halves, true);
    for (Columns* column : {&counts.miles, &counts.entryMiles})
        for (double& miles : *column)
            miles *= 2;
    EXPECT_EQ(counts, countsOfAll(whole, true));
}

TEST(Counts, CountMoreLivesOnOneMileageThanASmallCellHolds) {
    Lives lives;
    lives.miles.assign(70000, 5);
    lives.end.assign(70000, kCameBack);
    lives.end[7] = kHolding;
    const Counts counts = countsOfAll(lives);
    EXPECT_EQ(counts.comebacks, (Columns{69999}));
    EXPECT_EQ(counts.left, (Columns{1}));
}

TEST(Counts, OfTwoSetsTogetherAreThoseOfAllLives) {
    const Lives all = delayed();
    Lives first = all;
    Lives second = all;
    for (Columns* column : {&first.miles, &first.entry})
        column->resize(3);
    first.end.resize(3);
    for (Columns* column : {&second.miles, &second.entry})
        column->erase(column->begin(), column->begin() + 3);
    second.end.erase(second.end.begin(), second.end.begin() + 3);
    EXPECT_EQ(merged(countsOfAll(first, true), countsOfAll(second, true)), countsOfAll(all, true));
    const Counts parts[] = {countsOfAll(first), Counts(), countsOfAll(second)};
    EXPECT_EQ(merged(parts), countsOfAll(all));
}

TEST(Counts, LeaveNobodyWatchedWhereFractionsCancel) {
    Lives lives; // 0.1 + 0.2 - 0.3 is not 0 in doubles
    lives.miles = {10, 10, 40};
    lives.end = {kCameBack, kCameBack, kHolding};
    lives.entry = {0, 0, 20};
    lives.weight = {0.1, 0.2, 0.7};
    const Counts counts = countsOfAll(lives);
    EXPECT_EQ(counts.watched()[0], counts.comebacks[0]);
    EXPECT_EQ(counts.watchedAt(15), 0);
}

TEST(Counts, StartAgainBeyondAMileage) {
    const Counts counts = restartedAt(countsOfAll(delayed()), 10);
    EXPECT_EQ(counts.miles, (Columns{30, 50}));
    EXPECT_EQ(counts.entryMiles, (Columns{30}));
    EXPECT_EQ(counts.watched(), (Columns{3, 1}));
}

TEST(Lives, AreRefusedWithTheRowAndTheRule) {
    const auto refusal = [](auto change) {
        Lives lives = delayed();
        change(lives);
        const auto result = validate(lives);
        return result ? std::string() : result.error().detail;
    };
    EXPECT_TRUE(validate(delayed()));
    EXPECT_EQ(refusal([](Lives& l) { l.miles[1] = -1; }),
              "row 2: miles must be a finite number of 0 or more");
    EXPECT_EQ(refusal([](Lives& l) { l.entry[0] = 30; }), "row 1: entry must be below miles");
    EXPECT_EQ(refusal([](Lives& l) { l.until = {40, 10, 31, 50, 0, 30}; }),
              "row 3: until belongs to comebacks alone");
    EXPECT_EQ(refusal([](Lives& l) { l.weight = {1, 1, 1, 1, 0, 1}; }),
              "row 5: weight must be a finite number above 0");
    EXPECT_EQ(refusal([](Lives& l) { l.end[5] = 3; }), "row 6: end has no name");
    EXPECT_EQ(refusal([](Lives& l) { l.group = {0}; }), "the columns of the lives differ in length");
}

TEST(Lives, HaveGroupsInOrderOfNumberOrElseOfBytes) {
    Lives lives;
    lives.miles = {1, 2, 3};
    lives.end = {0, 0, 0};
    lives.group = {0, 1, 2};
    lives.groupNames = {"10", "9", "-1.5"};
    sortGroups(lives);
    EXPECT_EQ(lives.groupNames, (std::vector<std::string>{"-1.5", "9", "10"}));
    EXPECT_EQ(lives.group, (std::vector<std::uint32_t>{2, 1, 0}));
    lives.groupNames = {"b", "10", "9"};
    lives.group = {0, 1, 2};
    sortGroups(lives);
    EXPECT_EQ(lives.groupNames, (std::vector<std::string>{"10", "9", "b"}));
    EXPECT_EQ(lives.group, (std::vector<std::uint32_t>{2, 0, 1}));
}

TEST(Lives, ThatDifferByLessThanAMillionthAreReported) {
    Lives lives;
    lives.miles = {460, 460.0000001, 1000, 1000};
    lives.end = {0, 0, 0, 0};
    const auto near = nearlyEqualMileages(lives);
    ASSERT_TRUE(near);
    EXPECT_EQ(near->smaller, 460);
    EXPECT_EQ(near->larger, 460.0000001);
    EXPECT_EQ(near->pairs, 1U);
    lives.miles[1] = 460.001;
    EXPECT_FALSE(nearlyEqualMileages(lives));
}

} // namespace
} // namespace milehold::core
