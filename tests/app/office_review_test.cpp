// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/office_review.h"

#include <gtest/gtest.h>

namespace milehold::app {
namespace {

core::Date day(int year, unsigned month, unsigned dayOfMonth) {
    return {std::chrono::year(year), std::chrono::month(month), std::chrono::day(dayOfMonth)};
}

template <class Id> Id key(std::uint8_t number) {
    Id id;
    id.uuid.bytes[15] = number;
    return id;
}

/// A shelf of two paths and lives of each, as a book would tell them.
struct Book {
    core::Shelf shelf;
    std::vector<core::LifeRecord> lives;

    Book() {
        for (const std::uint8_t number : {std::uint8_t{1}, std::uint8_t{2}}) {
            core::RepairPath path;
            path.id = key<core::RepairPathId>(number);
            path.name = number == 1 ? "Phasers alone" : "Phasers with the chain set";
            shelf.paths.push_back(path);
        }
    }

    core::LifeRecord& add(std::uint8_t path, std::int64_t miles, bool back) {
        core::LifeRecord record;
        record.life.job = key<core::JobId>(static_cast<std::uint8_t>(lives.size() + 1));
        record.life.vehicle = key<core::VehicleId>(static_cast<std::uint8_t>(lives.size() + 1));
        if (path > 0)
            record.life.path = key<core::RepairPathId>(path);
        record.life.known = core::Distance::miles(miles);
        record.life.state = back ? core::LifeState::CameBack : core::LifeState::Holding;
        record.life.repairedOn = day(2029, 5, 2);
        record.modelYear = 2020;
        lives.push_back(record);
        return lives.back();
    }

    ui::OfficeView review(const ui::OfficeQuery& query = {}) const {
        const auto view = reviewLives(lives, shelf, {}, query);
        EXPECT_TRUE(view.has_value());
        return view ? *view : ui::OfficeView();
    }
};

TEST(OfficeReview, SaysThatThereIsNothingYet) {
    EXPECT_EQ(Book().review().problem, "no finished repair yet");
}

TEST(OfficeReview, TellsAnEmptyShopFromAFilterThatNothingPasses) {
    Book book;
    book.add(1, 20'000, false);
    ui::OfficeQuery query;
    query.fromYear = 2031;
    EXPECT_EQ(book.review(query).problem, "no repair passes these filters");
}

TEST(OfficeReview, RefusesAWayOfGroupingThatIsNotThere) {
    ui::OfficeQuery query;
    query.facet = "colour";
    EXPECT_FALSE(reviewLives({}, {}, {}, query).has_value());
}

TEST(OfficeReview, PutsTheLargestGroupFirstAndUnnamedRepairsLast) {
    Book book;
    for (int i = 0; i < 3; ++i)
        book.add(0, 10'000 + i, false);
    book.add(1, 20'000, false);
    book.add(2, 20'000, false);
    book.add(2, 30'000, true);
    const ui::OfficeView view = book.review();
    ASSERT_EQ(view.groups.size(), 3U);
    EXPECT_EQ(view.groups[0].name, "Phasers with the chain set");
    EXPECT_EQ(view.groups[1].name, "Phasers alone");
    EXPECT_EQ(view.groups[2].name, "");
}

// Kaplan & Meier by hand: 5 watched, comebacks at 10,000 and 30,000, quiet at 20,000, 40,000 and 50,000:
// S = 4/5 from 10,000, then 4/5 * 2/3 from 30,000.
TEST(OfficeReview, DrawsTheCurveOfItsLives) {
    Book book;
    book.add(1, 10'000, true);
    book.add(1, 20'000, false);
    book.add(1, 30'000, true);
    book.add(1, 40'000, false);
    book.add(1, 50'000, false);
    ui::OfficeQuery query;
    query.mark = 35'000;
    const ui::OfficeView view = book.review(query);
    const ui::OfficeGroup& group = view.groups.at(0);
    EXPECT_EQ(group.lives(), 5);
    EXPECT_EQ(group.comebacks(), 2);
    EXPECT_DOUBLE_EQ(group.evidence.known, 150'000);
    ASSERT_EQ(group.curve.size(), 5U);
    EXPECT_NEAR(group.curve.survival[0], 4.0 / 5, 1e-12);
    EXPECT_NEAR(group.curve.survival[2], 8.0 / 15, 1e-12);
    EXPECT_EQ(group.atMark.watched, 2);
    EXPECT_TRUE(group.atMark.few);
    EXPECT_FALSE(group.atMark.chance.has_value()) << "fewer than five are watched at the mark";
    EXPECT_TRUE(group.atMark.lower.has_value());
}

TEST(OfficeReview, LeavesOutAndCountsWhatAddsNothing) {
    Book book;
    book.add(1, 20'000, false);
    core::Life& unheard = book.add(1, 0, false).life;
    unheard.contributes = false;
    unheard.unseen = core::Distance::miles(20'000);
    const ui::OfficeView view = book.review();
    EXPECT_EQ(view.all.lives(), 1);
    EXPECT_EQ(view.passedOver, 1);
    EXPECT_NEAR(view.all.evidence.completeness.value(), 0.5, 1e-9) << "its unseen miles count all the same";
}

TEST(OfficeReview, ComparesTheTwoLargestGroupsUnlessOthersAreNamed) {
    Book book;
    for (int i = 0; i < 12; ++i)
        book.add(1, 10'000 + 1'000 * i, i % 2 == 0);
    for (int i = 0; i < 10; ++i)
        book.add(2, 20'000 + 3'000 * i, i == 4);
    ui::OfficeQuery query;
    query.mark = 18'000;
    const ui::OfficeView view = book.review(query);
    ASSERT_TRUE(view.comparison.has_value());
    EXPECT_EQ(view.comparison->first, "Phasers alone");
    EXPECT_EQ(view.comparison->second, "Phasers with the chain set");
    ASSERT_TRUE(view.comparison->difference.has_value());
    EXPECT_LT(*view.comparison->difference, 0);
    EXPECT_LE(*view.comparison->lower, *view.comparison->difference);
    EXPECT_GE(*view.comparison->upper, *view.comparison->difference);
    EXPECT_TRUE(view.comparison->permutation) << "seven comebacks in all";
    EXPECT_TRUE(view.comparison->p.has_value());

    query.compared = {"Phasers with the chain set", "Phasers alone"};
    const ui::OfficeView turned = book.review(query);
    EXPECT_EQ(turned.comparison->first, "Phasers with the chain set");
    EXPECT_NEAR(*turned.comparison->difference, -*view.comparison->difference, 1e-12);
}

TEST(OfficeReview, GivesNoPForFewerThanFiveComebacks) {
    Book book;
    for (int i = 0; i < 8; ++i)
        book.add(1, 10'000 + 1'000 * i, i < 2);
    for (int i = 0; i < 8; ++i)
        book.add(2, 20'000 + 3'000 * i, i < 2);
    const ui::OfficeView view = book.review();
    ASSERT_TRUE(view.comparison.has_value());
    EXPECT_TRUE(view.comparison->tooFew);
    EXPECT_FALSE(view.comparison->p.has_value());
}

TEST(OfficeReview, TheWorstReadingNamesTheJobsThatItLetsFail) {
    Book book;
    book.add(1, 10'000, true);
    book.add(1, 20'000, false).life.unseen = core::Distance::miles(9'000);
    book.add(1, 30'000, false);
    ui::OfficeQuery query;
    query.reading = core::Reading::Worst;
    const ui::OfficeGroup group = book.review(query).groups.at(0);
    EXPECT_EQ(group.comebacks(), 1) << "the table counts what happened";
    EXPECT_EQ(group.curve.comebacks, 2) << "the curve lets one more fail";
    int assumed = 0;
    for (const ui::OfficeJob& job : group.jobs)
        assumed += job.assumedBack ? 1 : 0;
    EXPECT_EQ(assumed, 1);
}

TEST(OfficeReview, FiltersByDeliveryAndModelYearWithBothEndsIncluded) {
    core::LifeRecord record;
    record.life.repairedOn = day(2030, 1, 31);
    record.modelYear = 2021;
    ui::OfficeQuery query;
    query.from = query.to = day(2030, 1, 31);
    query.fromYear = query.toYear = 2021;
    EXPECT_TRUE(passes(record, query));
    query.to = day(2030, 1, 30);
    EXPECT_FALSE(passes(record, query));
    query.to.reset();
    record.modelYear.reset();
    EXPECT_FALSE(passes(record, query)) << "a vehicle of unknown year is in no range of years";
}

} // namespace
} // namespace milehold::app
