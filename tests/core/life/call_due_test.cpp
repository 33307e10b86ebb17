// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/call_due.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

#include <optional>

namespace milehold::core {
namespace {

using namespace testing_support;
using Kind = DueKind;

// The marks are common practice, no published source.
TEST(DueMarks, AreTheLastOnesThatNobodyHasSeenTheOdometerSince) {
    struct Row {
        const char* today;
        std::optional<Kind> kind;
        const char* on;
    };
    const Row rows[] = {{"2030-05-08", {}, ""},
                        {"2030-05-09", Kind::Days30, "2030-05-09"},
                        {"2030-10-08", Kind::Days30, "2030-05-09"},
                        {"2030-10-09", Kind::Months6, "2030-10-09"},
                        {"2031-04-09", Kind::Months12, "2031-04-09"},
                        {"2032-04-09", Kind::Months24, "2032-04-09"},
                        {"2040-01-01", Kind::Months24, "2032-04-09"}};
    Life life;
    life.repairedOn = life.lastKnownOn = day("2030-04-09");
    for (const auto& row : rows) {
        const auto due = dueMarks(life, DistanceUnit::Miles, day(row.today));
        if (!row.kind) {
            EXPECT_TRUE(due.empty()) << row.today;
            continue;
        }
        EXPECT_EQ(due, (std::vector<CallDue>{{*row.kind, day(row.on), {}}})) << row.today;
    }
    life.lastKnownOn = day("2031-04-20");
    EXPECT_TRUE(dueMarks(life, DistanceUnit::Miles, day("2031-06-01")).empty()) << "seen since the 12 months";
    EXPECT_EQ(dueMarks(life, DistanceUnit::Miles, day("2032-04-09")).size(), 1U);
}

TEST(DueMarks, AreWhereADistanceWasPassedUnseenByEstimate) {
    Life life;
    life.repairedOn = day("2030-04-01");
    life.lastKnownOn = day("2030-12-31");
    life.known = Distance::miles(9'000);
    life.yearly.perYear = Distance::miles(12'000);
    life.unseen = Distance::miles(2'000);
    const Date today = day("2031-02-28");
    // A thousand miles at 12,000 a year are 365.25 / 12 = 30.4 days.
    EXPECT_EQ(
        dueMarks(life, DistanceUnit::Miles, today),
        (std::vector<CallDue>{{Kind::Distance, addDays(life.lastKnownOn, 30), Distance::miles(10'000)}}));
    life.known = Distance::miles(10'000);
    EXPECT_TRUE(dueMarks(life, DistanceUnit::Miles, today).empty()) << "seen quiet there";
    EXPECT_EQ(dueDistances(DistanceUnit::Kilometres).front(), Distance::kilometres(15'000));
}

TEST(CallViews, PutACallThatWasPromisedFirstAndMarkItsDay) {
    std::vector<RankedCall> ranked(3);
    for (std::uint8_t i = 0; i < 3; ++i)
        ranked[i].job = job(static_cast<std::uint8_t>(i + 1));
    ranked[2].promisedOn = day("2031-04-01");
    const auto marked = withDueMarks(ranked, {}, DistanceUnit::Miles, day("2031-04-09"));
    ASSERT_EQ(marked[2].due, (std::vector<CallDue>{{Kind::Promised, day("2031-04-01"), {}}}));
    EXPECT_TRUE(marked[0].due.empty());
    const auto byWorth = pickCalls(marked, {});
    ASSERT_EQ(byWorth.size(), 3U);
    EXPECT_EQ(byWorth[0].call.job, job(3));
    EXPECT_EQ(byWorth[1].call.job, job(1)) << "the others keep their rank";
    EXPECT_EQ(byWorth[2].call.job, job(2));
    EXPECT_EQ(pickCalls(marked, {CallView::Show::Due, CallView::Order::Worth}).size(), 1U);
}

TEST(CallViews, PickAndSortWithoutLosingTheRank) {
    const Date today = day("2031-04-09");
    std::vector<LifeRecord> lives;
    std::vector<RankedCall> ranked;
    const auto add = [&](std::uint8_t number, const char* repairedOn, std::int64_t unseen) -> RankedCall& {
        LifeRecord record;
        record.life.job = job(number);
        record.life.repairedOn = record.life.lastKnownOn = day(repairedOn);
        record.life.unseen = Distance::miles(unseen);
        lives.push_back(record);
        RankedCall call;
        call.job = job(number);
        return ranked.emplace_back(call);
    };
    add(1, "2031-04-01", 300); // nothing due
    add(2, "2030-03-01", 9'000);
    add(3, "2030-09-01", 9'500);
    ranked[2].warrantyOpen = true;
    ranked[2].warrantyEnds = day("2032-09-01");
    add(4, "2029-01-01", 9'000);
    ranked[3].warrantyOpen = true;
    ranked[3].warrantyEnds = day("2031-06-01");
    const auto calls = withDueMarks(ranked, lives, DistanceUnit::Miles, today);
    using Show = CallView::Show;
    using Order = CallView::Order;
    const auto jobs = [&](Show show, Order order = Order::Worth) {
        std::vector<JobId> picked;
        for (const auto& call : pickCalls(calls, {show, order}))
            picked.push_back(call.call.job);
        return picked;
    };
    EXPECT_EQ(jobs(Show::All), (std::vector{job(1), job(2), job(3), job(4)}));
    EXPECT_EQ(jobs(Show::Due), (std::vector{job(2), job(3), job(4)}));
    EXPECT_EQ(jobs(Show::Months6), (std::vector{job(3)}));
    EXPECT_EQ(jobs(Show::Months12), (std::vector{job(2)}));
    EXPECT_EQ(jobs(Show::Months24), (std::vector{job(4)}));
    EXPECT_TRUE(jobs(Show::Days30).empty() && jobs(Show::Distance).empty());
    EXPECT_EQ(jobs(Show::Warranty), (std::vector{job(3), job(4)}));
    EXPECT_EQ(jobs(Show::All, Order::DueFirst), (std::vector{job(4), job(2), job(3), job(1)}));
    EXPECT_EQ(jobs(Show::Due, Order::WarrantyFirst), (std::vector{job(4), job(3), job(2)}));
    EXPECT_EQ(jobs(Show::All, Order::Unseen), (std::vector{job(3), job(2), job(4), job(1)}));
}

} // namespace
} // namespace milehold::core
