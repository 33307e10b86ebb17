// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/report/owners_report.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using namespace std::chrono;

constexpr Date day(int y, unsigned m, unsigned d) {
    return Date{year{y}, month{m}, std::chrono::day{d}};
}

template <class Tag> Id<Tag> idOf(std::uint8_t number) {
    Id<Tag> id;
    id.uuid.bytes[15] = number;
    return id;
}

const RepairPathId kPath = idOf<RepairPathTag>(1);

Shelf shelfOfOnePath() {
    Shelf shelf;
    RepairPath path;
    path.id = kPath;
    path.name = "Both phasers";
    path.freshness.checkAgainBy = day(2031, 3, 1);
    shelf.paths.push_back(path);
    return shelf;
}

LifeRecord record(std::uint8_t number, std::int64_t miles, LifeState state, Date on) {
    LifeRecord made;
    made.jobNumber = number;
    made.life.job = idOf<JobTag>(number);
    made.life.path = kPath;
    made.life.state = state;
    made.life.known = Distance::miles(miles);
    made.life.lastKnownOn = on;
    return made;
}

ReportOptions april() {
    ReportOptions options;
    options.month = year_month{year{2031}, month{4}};
    options.mark = 40'000;
    options.dataDate = day(2031, 5, 2);
    return options;
}

// Six lives, one back at 30,000 miles with six watched: S(40,000) = 5/6, the product-limit estimate by hand.
TEST(OwnersReport, SetsTheShareStillQuietAtTheMarkBesideItsCounts) {
    std::vector<LifeRecord> lives{record(1, 30'000, LifeState::CameBack, day(2031, 4, 9))};
    for (std::uint8_t i = 2; i <= 6; ++i)
        lives.push_back(record(i, 50'000, LifeState::Holding, day(2031, 3, i)));
    const auto report = makeOwnersReport(lives, {}, shelfOfOnePath(), {}, april());
    ASSERT_TRUE(report.has_value());
    ASSERT_EQ(report->paths.size(), 1U);
    const ReportPath& path = report->paths.front();
    EXPECT_EQ(path.name, "Both phasers");
    EXPECT_EQ(path.lives, 6);
    EXPECT_EQ(path.comebacks, 1);
    EXPECT_EQ(path.comebacksThisMonth, 1);
    ASSERT_TRUE(path.atMark.chance.has_value());
    EXPECT_NEAR(*path.atMark.chance, 5.0 / 6.0, 1e-12);
    EXPECT_FALSE(path.tooFew);
    EXPECT_EQ(path.jobs.size(), 6U);
    EXPECT_EQ(report->cameBack, 1);
    EXPECT_EQ(report->holding, 5);
}

TEST(OwnersReport, CountsTheWorstCaseFromUnseenMiles) {
    std::vector<LifeRecord> lives;
    for (std::uint8_t i = 1; i <= 6; ++i)
        lives.push_back(record(i, 50'000, LifeState::Holding, day(2031, 3, i)));
    lives[0].life.known = Distance::miles(10'000);
    lives[0].life.unseen = Distance::miles(40'000);
    lives.push_back(record(7, 60'000, LifeState::CameBack, day(2031, 1, 7)));
    const auto report = makeOwnersReport(lives, {}, shelfOfOnePath(), {}, april());
    ASSERT_TRUE(report.has_value());
    const ReportPath& path = report->paths.front();
    ASSERT_TRUE(path.worstAtMark.has_value());
    EXPECT_NEAR(*path.worstAtMark, 6.0 / 7.0, 1e-12); // one of seven taken as back right after 10,000 miles
    ASSERT_TRUE(path.evidence.has_value());
    EXPECT_NEAR(*path.evidence, 320'000.0 / 360'000.0, 1e-6); // whole metres stand behind the miles
}

// Known 6 x 50,000 of 300,000 + 4 x 25,000 miles; worst: four back at once of ten, S = 6/10, by hand.
TEST(OwnersReport, CountsRepairsThatWereNeverHeardOfAgainAsUnseenAndInTheWorstCase) {
    std::vector<LifeRecord> lives;
    for (std::uint8_t i = 1; i <= 6; ++i)
        lives.push_back(record(i, 50'000, LifeState::Holding, day(2031, 3, i)));
    for (std::uint8_t i = 7; i <= 10; ++i) {
        lives.push_back(record(i, 0, LifeState::LostSight, day(2030, 1, i)));
        lives.back().life.contributes = false;
        lives.back().life.unseen = Distance::miles(25'000);
    }
    const auto report = makeOwnersReport(lives, {}, shelfOfOnePath(), {}, april());
    ASSERT_TRUE(report.has_value());
    const ReportPath& path = report->paths.front();
    EXPECT_EQ(path.lives, 6);
    EXPECT_EQ(path.notFollowed, 4);
    EXPECT_EQ(path.jobs.size(), 10U);
    EXPECT_NEAR(path.evidence.value(), 0.75, 1e-6);
    EXPECT_NEAR(report->evidence.value(), 0.75, 1e-6);
    EXPECT_NEAR(path.worstAtMark.value(), 0.6, 1e-12);
}

TEST(OwnersReport, SaysNothingPastTheLastWatchedDistance) {
    std::vector<LifeRecord> lives;
    for (std::uint8_t i = 1; i <= 8; ++i)
        lives.push_back(record(i, 20'000, LifeState::Holding, day(2031, 3, i)));
    const auto report = makeOwnersReport(lives, {}, shelfOfOnePath(), {}, april());
    ASSERT_TRUE(report.has_value());
    EXPECT_FALSE(report->paths.front().atMark.chance.has_value());
    EXPECT_FALSE(report->paths.front().worstAtMark.has_value());
    EXPECT_TRUE(report->paths.front().tooFew);
}

TEST(OwnersReport, AddsUpWhatTheMonthsComebacksCost) {
    std::vector<LifeRecord> lives{record(1, 30'000, LifeState::CameBack, day(2031, 4, 9)),
                                  record(2, 31'000, LifeState::CameBack, day(2031, 2, 9))};
    Job back;
    back.comebackOf = lives[0].life.job;
    back.comebackCause = "lock pin worn";
    back.comebackCosts = {Money{100'00}, {}, {}, Money{30'00}, {}, Money{15'00}};
    back.comebackCost = Money{10'00};
    Job voided = back;
    voided.voidReason = "typed twice";
    const std::vector<Job> jobs{back, voided};
    const auto report = makeOwnersReport(lives, jobs, shelfOfOnePath(), {}, april());
    ASSERT_TRUE(report.has_value());
    ASSERT_EQ(report->comebacks.size(), 1U); // February's is not April's
    EXPECT_EQ(report->comebacks.front().cause, "lock pin worn");
    EXPECT_EQ(report->comebackCost, Money{125'00}); // by hand: 100 + 30 - 15 + 10
    EXPECT_EQ(report->costs.kinds, back.comebackCosts);
    EXPECT_EQ(report->costs.total(), report->comebackCost);
}

TEST(OwnersReport, CountsRepairsDeliveredInTheMonthOnly) {
    Job job;
    job.delivered = day(2031, 4, 30);
    job.partsPrice = Money{900'00};
    Job later = job;
    later.delivered = day(2031, 5, 1);
    Job visit = job;
    visit.kind = JobKind::Visit;
    Job voided = job;
    voided.voidReason = "typed twice";
    const std::vector<Job> jobs{job, later, visit, voided};
    const auto report = makeOwnersReport({}, jobs, shelfOfOnePath(), {}, april());
    ASSERT_TRUE(report.has_value());
    EXPECT_EQ(report->delivered, 1);
    EXPECT_EQ(report->revenue, Money{900'00});
}

TEST(OwnersReport, ListsWhatIsStaleOnTheShelf) {
    const auto report = makeOwnersReport({}, {}, shelfOfOnePath(), {}, april());
    ASSERT_TRUE(report.has_value());
    ASSERT_EQ(report->stale.size(), 1U);
    EXPECT_EQ(report->stale.front(), "Both phasers");
}

TEST(OwnersReport, RefusesAMonthThatIsNone) {
    ReportOptions options = april();
    options.month = year_month{year{2031}, month{13}};
    const auto report = makeOwnersReport({}, {}, {}, {}, options);
    ASSERT_FALSE(report.has_value());
    EXPECT_EQ(report.error().code, ErrorCode::InvalidInput);
}

} // namespace
} // namespace milehold::core
