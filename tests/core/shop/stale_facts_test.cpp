// SPDX-License-Identifier: GPL-3.0-or-later
// The rules are the shop's own: common practice, no published source.
#include "core/shop/stale_facts.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

Date day(int year, unsigned month, unsigned dayOfMonth) {
    return Date{std::chrono::year{year}, std::chrono::month{month}, std::chrono::day{dayOfMonth}};
}

template <class IdType> IdType idOf(std::uint8_t n) {
    IdType id;
    id.uuid.bytes[15] = n;
    return id;
}

const Date kToday = day(2031, 5, 16);
const Freshness kOverdue{day(2030, 5, 1), day(2031, 5, 15)};

Shelf shelfWith(Freshness freshness) {
    Shelf shelf;
    PartNumber part;
    part.id = idOf<PartNumberId>(1);
    part.number = "LP-1";
    part.revisionLabel = "A";
    part.freshness = freshness;
    shelf.parts.push_back(part);
    return shelf;
}

TEST(StaleFacts, WantCheckingFromTheDayAfterTheyAreDue) {
    EXPECT_TRUE(wantsChecking(shelfWith({day(2030, 5, 1), kToday}), kToday).empty());
    const auto facts = wantsChecking(shelfWith(kOverdue), kToday);
    ASSERT_EQ(facts.size(), 1U);
    EXPECT_EQ(facts[0].name, "LP-1 A");
    EXPECT_EQ(facts[0].subject, ShelfSubject::PartNumber);
}

TEST(StaleFacts, PassOverWhatNobodyUsesAnyMore) {
    Shelf shelf = shelfWith(kOverdue);
    PartNumber newer = shelf.parts[0];
    newer.id = idOf<PartNumberId>(2);
    newer.revisionLabel = "B";
    newer.freshness = {};
    shelf.parts[0].supersededBy = newer.id;
    shelf.parts.push_back(newer);
    RepairPath path;
    path.id = idOf<RepairPathId>(3);
    path.active = false;
    path.freshness = kOverdue;
    shelf.paths.push_back(path);
    EXPECT_TRUE(wantsChecking(shelf, kToday).empty());
}

TEST(StaleFacts, ComeLongestOverdueFirst) {
    Shelf shelf = shelfWith(kOverdue);
    ShelfNote note;
    note.id = idOf<ShelfNoteId>(4);
    note.subject = ShelfSubject::EngineFamily;
    note.text = "Drop the pan";
    note.freshness = {day(2029, 1, 1), day(2030, 1, 1)};
    shelf.notes.push_back(note);
    const auto facts = wantsChecking(shelf, kToday);
    ASSERT_EQ(facts.size(), 2U);
    EXPECT_EQ(facts[0].name, "Drop the pan");
    EXPECT_TRUE(facts[0].note);
}

TEST(StaleFacts, CheckedTodayIsGoodForAsLongAgain) {
    const Freshness renewed = checkedToday({day(2030, 1, 1), day(2030, 1, 31)}, kToday);
    EXPECT_EQ(renewed.checkedOn, kToday);
    EXPECT_EQ(renewed.checkAgainBy, addDays(kToday, 30));
}

TEST(StaleFacts, CheckedForTheFirstTimeIsGoodForHalfAYear) {
    EXPECT_EQ(checkedToday({}, kToday).checkAgainBy, addDays(kToday, kUsualDaysBetweenChecks));
    // A next check before the last one is nonsense and no measure.
    EXPECT_EQ(checkedToday({day(2031, 1, 1), day(2030, 1, 1)}, kToday).checkAgainBy,
              addDays(kToday, kUsualDaysBetweenChecks));
}

} // namespace
} // namespace milehold::core
