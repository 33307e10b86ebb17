// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/office_review.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <memory>

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

// The columns that the Office filters by against the rule for one record, over every mixture of filters.
TEST(OfficeLives, RowsThatPassAreThoseOfTheRecordsThatPass) {
    Book book;
    for (int i = 0; i < 200; ++i) {
        core::LifeRecord& record = book.add(static_cast<std::uint8_t>(i % 4), 1'000 * i, i % 7 == 0);
        record.life.repairedOn = core::addDays(day(2029, 5, 2), i * 3);
        record.modelYear = i % 5 == 0 ? std::nullopt : std::optional(2015 + i % 9);
        if (i % 3 > 0)
            record.family = key<core::EngineFamilyId>(static_cast<std::uint8_t>(i % 3));
        if (i % 4 > 0)
            record.technician = key<core::StaffId>(static_cast<std::uint8_t>(i % 4));
    }
    const OfficeLives lives(book.lives, nullptr, std::make_shared<const core::Shelf>(book.shelf), {});
    std::size_t passed = 0;
    for (int mixture = 0; mixture < 128; ++mixture) {
        ui::OfficeQuery query;
        if (mixture & 1)
            query.path = key<core::RepairPathId>(1);
        if (mixture & 2)
            query.family = key<core::EngineFamilyId>(2);
        if (mixture & 4)
            query.technician =
                key<core::StaffId>(static_cast<std::uint8_t>(mixture & 8 ? 9 : 3)); // 9: nobody
        if (mixture & 8)
            query.fromYear = 2017;
        if (mixture & 16)
            query.toYear = 2021;
        if (mixture & 32)
            query.from = day(2029, 6, 1);
        if (mixture & 64)
            query.to = day(2030, 5, 1);
        std::vector<std::uint32_t> expected;
        for (std::uint32_t row = 0; row < book.lives.size(); ++row)
            if (passes(book.lives[row], query))
                expected.push_back(row);
        EXPECT_EQ(lives.rowsPassing(query), expected) << mixture;
        passed += expected.size();
    }
    EXPECT_GT(passed, 500U);
}

TEST(OfficeLives, GroupsAreNamedAsTheFacetNamesEachRecord) {
    Book book;
    for (int i = 0; i < 40; ++i)
        book.add(static_cast<std::uint8_t>(i % 3), 1'000 * i, false).life.ordinal = 1 + i % 2;
    const auto shelf = std::make_shared<const core::Shelf>(book.shelf);
    const OfficeLives lives(book.lives, nullptr, shelf, {});
    for (const core::Facet& facet : core::facets()) {
        const OfficeLives::Groups& groups = lives.groupsBy(facet);
        EXPECT_TRUE(std::is_sorted(groups.names.begin(), groups.names.end())) << facet.id;
        ASSERT_EQ(groups.of.size(), book.lives.size());
        for (std::size_t row = 0; row < book.lives.size(); ++row)
            EXPECT_EQ(groups.names.at(groups.of[row]), facet.valueOf(book.lives[row], {*shelf, {}}))
                << facet.id;
    }
}

// The threads that share the work must not change it: a book that is large enough for them against its parts.
TEST(OfficeReview, SaysTheSameOfALargeBookAsOfEachPathAlone) {
    Book book;
    for (int i = 0; i < 24'000; ++i) {
        core::LifeRecord& record =
            book.add(static_cast<std::uint8_t>(1 + i % 2), 100 + i * 37 % 90'000, i % 9 == 0);
        record.life.unseen = core::Distance::miles(i % 5 == 0 && i % 9 != 0 ? 4'000 : 0);
    }
    const ui::OfficeView view = book.review();
    ASSERT_EQ(view.groups.size(), 2U);
    ui::OfficeQuery alone;
    alone.mark = static_cast<std::int64_t>(view.mark);
    for (const ui::OfficeGroup& group : view.groups) {
        alone.path = key<core::RepairPathId>(group.name == "Phasers alone" ? 1 : 2);
        const ui::OfficeView one = book.review(alone);
        ASSERT_EQ(one.groups.size(), 1U);
        EXPECT_EQ(one.groups[0].counts, group.counts);
        EXPECT_EQ(one.groups[0].curve.lower, group.curve.lower);
        EXPECT_EQ(one.groups[0].jobs.size(), group.jobs.size());
        EXPECT_EQ(one.all.counts, group.counts);
        ASSERT_TRUE(group.tipping && one.groups[0].tipping);
        EXPECT_EQ(one.groups[0].tipping->share, group.tipping->share);
        EXPECT_EQ(one.groups[0].readings.worst, group.readings.worst);
    }
    EXPECT_EQ(view.all.lives(), 24'000);
}

} // namespace
} // namespace milehold::app
