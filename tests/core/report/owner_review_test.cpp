// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/report/owner_review.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace milehold::core {
namespace {

using namespace testing_support;

class OwnerReview : public ::testing::Test {
protected:
    LifeRecord& add(std::int64_t knownMiles, LifeState state = LifeState::Holding) {
        LifeRecord record;
        const auto number = lives.size() + 1;
        record.life.job = job(static_cast<std::uint8_t>(number));
        record.life.job.uuid.bytes[3] = static_cast<std::uint8_t>(number >> 8);
        record.life.vehicle.uuid = record.life.job.uuid;
        record.life.path = s.phasers;
        record.life.state = state;
        record.life.known = miles(knownMiles);
        record.life.yearly = {miles(12'000), YearlySource::Readings, 4};
        record.life.repairedOn = day("2030-01-10");
        record.life.lastKnownOn = day("2031-04-02");
        record.family = s.family;
        record.modelYear = 2020;
        record.technician = key<StaffId>(1);
        lives.push_back(record);
        return lives.back();
    }
    FacetNames names() const { return {s.shelf, staff}; }

    SmallShelf s;
    std::vector<Staff> staff{[] {
                                 Staff one;
                                 one.id = key<StaffId>(1);
                                 one.name = "Ann Sorrel";
                                 return one;
                             }(),
                             [] {
                                 Staff two;
                                 two.id = key<StaffId>(2);
                                 two.name = "Ben Tamarack";
                                 return two;
                             }()};
    std::vector<LifeRecord> lives;
    const Date today = day("2031-04-09");
};

TEST_F(OwnerReview, AddsUpComebacksAndTheirCostByPathReasonAndMonth) {
    add(30'000);
    const JobId first = add(10'000, LifeState::CameBack).life.job;
    add(12'000, LifeState::CameBack).life.path = s.valves;
    lives.back().life.lastKnownOn = day("2031-01-20");
    add(0, LifeState::NeverHeld).life.lastKnownOn = day("2029-06-01"); // longer ago than twelve months
    Job back = repair(90, "2031-04-02", 60'000);
    back.comebackOf = first;
    back.comebackDecision = ComebackDecision::Workmanship;
    back.comebackCosts = {Money{30'000}, Money{20'000}, {}, {}, {}, Money{10'000}};
    back.comebackCost = Money{2'000}; // with the kinds 42,000
    Job voided = back;
    voided.id = job(91);
    voided.voidReason = "typed twice";
    const std::vector<Job> jobs{voided, back};
    const ComebackReview review = reviewComebacks(lives, jobs, names(), today);
    EXPECT_EQ(review.comebacks, 3);
    EXPECT_EQ(review.priced, 1);
    EXPECT_EQ(review.cost(), Money{42'000}); // by hand: 30,000 + 20,000 - 10,000 + 2,000
    EXPECT_EQ(review.costs.kinds.credit, Money{10'000});
    EXPECT_EQ(review.costs.other, Money{2'000});
    EXPECT_EQ(review.byPath[0].costs, review.costs);
    ASSERT_EQ(review.byPath.size(), 2U);
    EXPECT_EQ(review.byPath[0].name, "Phasers, both cams");
    EXPECT_EQ(review.byPath[0].comebacks, 2);
    EXPECT_EQ(review.byPath[0].repairs, 3);
    EXPECT_EQ(review.byPath[0].cost(), Money{42'000});
    EXPECT_EQ(review.byPath[1].cost(), Money{0});
    ASSERT_EQ(review.byMonth.size(), 12U);
    EXPECT_EQ(review.byMonth.back().name, "2031-04");
    EXPECT_EQ(review.byMonth.back().comebacks, 1);
    EXPECT_EQ(review.byMonth.front().name, "2030-05");
    EXPECT_EQ(review.byMonth[8].name, "2031-01");
    EXPECT_EQ(review.byMonth[8].comebacks, 1);
    int reasons = 0;
    for (const CostRow& row : review.byReason) {
        reasons += row.comebacks;
        EXPECT_EQ(row.jobs.size(), static_cast<std::size_t>(row.comebacks)) << row.name;
    }
    EXPECT_EQ(reasons, 3);
}

// Nelson-Aalen by hand: at 10,000 one of 4, at 20,000 one of 3. Expected of those who were watched to 10,000
// and 30,000: 1/4 + 7/12 = 5/6; of those to 20,000 and 30,000: 7/12 + 7/12 = 7/6.
TEST_F(OwnerReview, SetsPeopleAgainstWhatWasToBeExpectedOfTheirOwnMiles) {
    add(10'000, LifeState::CameBack);
    add(30'000);
    add(20'000, LifeState::CameBack).technician = key<StaffId>(2);
    add(30'000).technician = key<StaffId>(2);
    add(30'000).technician = std::nullopt; // nobody's: left out
    const auto review = reviewPeople(lives, names());
    ASSERT_TRUE(review);
    ASSERT_EQ(review->funnel.points.size(), 2U);
    EXPECT_EQ(review->funnel.points[0].name, "Ann Sorrel");
    EXPECT_EQ(review->funnel.points[0].observed, 1);
    EXPECT_NEAR(review->funnel.points[0].expected, 5.0 / 6, 1e-12);
    EXPECT_NEAR(review->funnel.points[1].expected, 7.0 / 6, 1e-12);
    EXPECT_EQ(review->jobs[0].size(), 2U);
    // On another path the same lives are expected by that path's own hazard: all that came back there.
    add(5'000, LifeState::CameBack).life.path = s.valves;
    const auto both = reviewPeople(lives, names());
    EXPECT_NEAR(both->funnel.points[0].expected, 5.0 / 6 + 1, 1e-12);
    lives.clear();
    add(30'000);
    EXPECT_EQ(reviewPeople(lives, names()).error().code, ErrorCode::NotEstimable);
}

TEST_F(OwnerReview, GroupsSuppliersByThePhaser) {
    s.shelf.parts[1].supplier = "Tarn Castings";
    s.shelf.parts[2].supplier = "Beck Valves";
    add(10'000, LifeState::CameBack).parts = {s.valve, s.newPhaser};
    add(30'000).parts = {s.valve};
    const auto review = reviewSuppliers(lives, names());
    ASSERT_TRUE(review);
    ASSERT_EQ(review->funnel.points.size(), 2U);
    EXPECT_EQ(review->funnel.points[0].name, "Beck Valves");
    EXPECT_EQ(review->funnel.points[1].name, "Tarn Castings");
    EXPECT_EQ(review->funnel.points[1].observed, 1);
}

// A new revision whose repairs come back at four times the old one's rate (known truth, seeded); the old one,
// judged against the new, must not warn.
TEST_F(OwnerReview, WarnsOfAPartThatComesBackFasterThanItsKind) {
    std::mt19937_64 random(41);
    std::exponential_distribution<double> life(1);
    const auto fit = [&](PartNumberId part, double meanDays, int count) {
        for (int i = 0; i < count; ++i) {
            const Date on = addDays(day("2028-01-05"), i * 9);
            const double lasted = life(random) * meanDays;
            const double open =
                static_cast<double>((std::chrono::sys_days(today) - std::chrono::sys_days(on)).count());
            LifeRecord& record = add(1'000, lasted < open ? LifeState::CameBack : LifeState::Holding);
            record.parts = {part};
            record.life.repairedOn = on;
            record.life.lastKnownOn = addDays(on, static_cast<int>(std::min(lasted, open)));
        }
    };
    fit(s.oldPhaser, 4'000, 110);
    fit(s.newPhaser, 1'000, 110);
    const auto parts = reviewParts(lives, s.shelf, today, {.runs = 300});
    ASSERT_TRUE(parts) << parts.error().detail;
    ASSERT_EQ(parts->size(), 2U);
    EXPECT_EQ((*parts)[0].name, "QP-1100 B") << "nearest to its limit first";
    EXPECT_TRUE((*parts)[0].alarmOn);
    EXPECT_GT((*parts)[0].comebacks, (*parts)[0].expected);
    EXPECT_FALSE((*parts)[1].alarmOn);
    EXPECT_EQ((*parts)[0].jobs.size(), 110U);
    EXPECT_EQ((*parts)[0].since, day("2028-01-05"));
    EXPECT_GT((*parts)[0].limit, 0);
}

// One lot of forty whose repairs come back at six times the rate of the others (known truth, seeded).
TEST_F(OwnerReview, WarnsOfALotThatComesBackFasterThanTheOthersOfItsKind) {
    std::mt19937_64 random(17);
    std::exponential_distribution<double> life(1);
    const auto fit = [&](const std::string& lot, double meanDays, int count) {
        for (int i = 0; i < count; ++i) {
            const Date on = addDays(day("2028-01-05"), i * 9);
            const double lasted = life(random) * meanDays;
            const double open =
                static_cast<double>((std::chrono::sys_days(today) - std::chrono::sys_days(on)).count());
            LifeRecord& record = add(1'000, lasted < open ? LifeState::CameBack : LifeState::Holding);
            record.parts = {s.newPhaser};
            if (!lot.empty())
                record.lots = {{s.newPhaser, lot}};
            record.life.repairedOn = on;
            record.life.lastKnownOn = addDays(on, static_cast<int>(std::min(lasted, open)));
        }
    };
    fit("L70", 4'800, 60);
    fit("L77", 800, 40);
    fit("", 4'800, 40); // whose lot nobody wrote down
    fit("L80", 4'800, 7);
    const auto lots = reviewLots(lives, s.shelf, today, {.runs = 300});
    ASSERT_TRUE(lots) << lots.error().detail;
    ASSERT_EQ(lots->size(), 2U) << "seven repairs are too few to be watched";
    EXPECT_EQ((*lots)[0].name, "QP-1100 B, lot L77") << "nearest to its limit first";
    EXPECT_TRUE((*lots)[0].alarmOn);
    EXPECT_EQ((*lots)[0].jobs.size(), 40U);
    EXPECT_EQ((*lots)[0].repairs, 40);
    EXPECT_EQ((*lots)[1].name, "QP-1100 B, lot L70");
    EXPECT_FALSE((*lots)[1].alarmOn);
}

// Both numbers of phasers were fitted in every repair, so none tells what is usual without the other: all
// repairs do. A repair that entered the watch late is not in it, as its comebacks before were never seen.
TEST_F(OwnerReview, AsksNoRepairOfAPartWhatIsUsualForIt) {
    for (int i = 0; i < 20; ++i) {
        LifeRecord& record = add(1'000, i % 2 == 0 ? LifeState::CameBack : LifeState::Holding);
        record.parts = {s.oldPhaser, s.newPhaser};
        record.life.lastKnownOn = addDays(record.life.repairedOn, 10 + i);
    }
    for (int i = 0; i < 9; ++i)
        add(1'000).life.entry = miles(500);
    const auto parts = reviewParts(lives, s.shelf, today, {.runs = 50});
    ASSERT_TRUE(parts) << parts.error().detail;
    ASSERT_EQ(parts->size(), 2U);
    for (const WatchedPart& part : *parts) {
        EXPECT_EQ(part.repairs, 20);
        EXPECT_EQ(part.comebacks, 10);
        EXPECT_NEAR(part.expected, part.comebacks, 1e-12) << "against all repairs, which are its own";
        EXPECT_FALSE(part.alarmOn);
    }
}

TEST_F(OwnerReview, WatchesNoPartThatWasHardlyFitted) {
    for (int i = 0; i < 7; ++i)
        add(10'000, LifeState::CameBack).parts = {s.newPhaser};
    EXPECT_TRUE(reviewParts(lives, s.shelf, today).value().empty());
}

// One factor, two paths: the same figures as the regression on that column alone (its tests ask R).
TEST_F(OwnerReview, GivesTheRatioOfOnePathAgainstTheOther) {
    for (int i = 0; i < 12; ++i)
        add(20'000 + 2'000 * i, i % 3 == 0 ? LifeState::CameBack : LifeState::Holding);
    for (int i = 0; i < 9; ++i)
        add(5'000 + 2'500 * i, i % 3 != 2 ? LifeState::CameBack : LifeState::Holding).life.path = s.valves;
    const auto review = reviewFactors(lives, names(), DistanceUnit::Miles);
    ASSERT_TRUE(review) << review.error().detail;
    ASSERT_EQ(review->rows.size(), 1U) << "engine, model year and yearly miles are alike";
    const FactorReview::Row& row = review->rows[0];
    EXPECT_EQ(row.name, "Oil control valves");
    EXPECT_EQ(row.against, "against Phasers, both cams");
    std::vector<Life> own;
    FactorTable table{{"valves"}, {}};
    for (const LifeRecord& record : lives) {
        own.push_back(record.life);
        table.values.push_back(record.life.path == s.valves);
    }
    CoxOptions options;
    options.clustered = true;
    const auto fit = fitCox(toColumns(own, DistanceUnit::Miles).lives, table, options);
    ASSERT_TRUE(fit);
    EXPECT_NEAR(row.ratio.value(), fit->terms[0].hazardRatio.value(), 1e-12);
    EXPECT_NEAR(row.lower.value(), fit->terms[0].lower.value(), 1e-12);
    EXPECT_GT(*row.ratio, 1);
    EXPECT_EQ(row.jobs.size(), 9U);
}

TEST_F(OwnerReview, LeavesOutAFactorOfWhichNoneCameBackAndSaysSo) {
    for (int i = 0; i < 16; ++i)
        add(20'000 + 2'000 * i, i < 11 ? LifeState::CameBack : LifeState::Holding).modelYear = 2015 + i % 6;
    for (int i = 0; i < 5; ++i)
        add(15'000 + 2'500 * i).life.path = s.valves;
    const auto review = reviewFactors(lives, names(), DistanceUnit::Miles);
    ASSERT_TRUE(review) << review.error().detail;
    EXPECT_EQ(review->rows[0].name, "Oil control valves");
    EXPECT_FALSE(review->rows[0].ratio);
    EXPECT_EQ(review->rows[0].why, "none came back");
    EXPECT_TRUE(review->rows[1].ratio) << "model years can be told all the same";
    lives.resize(9);
    EXPECT_EQ(reviewFactors(lives, names(), DistanceUnit::Miles).error().code, ErrorCode::NotEstimable);
}

TEST_F(OwnerReview, PricesTheShopsOwnTermsBesideTheUsualOnes) {
    for (int i = 0; i < 40; ++i)
        add(6'000 + 1'500 * i, i % 4 == 0 ? LifeState::CameBack : LifeState::Holding);
    ShopSettings settings;
    settings.warrantyMonths = 18;
    settings.warrantyDistance = miles(20'000);
    ComebackReview costs;
    costs.priced = 4;
    costs.costs.other = Money{200'000};
    const auto review = reviewWarranty(lives, costs, settings, names(), DistanceUnit::Miles, 60);
    ASSERT_TRUE(review) << review.error().detail;
    ASSERT_EQ(review->rows.size(), 5U);
    EXPECT_TRUE(review->rows[4].own);
    EXPECT_EQ(review->meanCost, 50'000);
    EXPECT_LT(review->rows[0].cost.share.value, review->rows[1].cost.share.value);
    EXPECT_LT(review->rows[1].cost.share.value, review->rows[2].cost.share.value);
    // All drive 12,000 a year: 18 months cover 18,000, between one year and two.
    EXPECT_LT(review->rows[0].cost.share.value, review->rows[4].cost.share.value);
    EXPECT_LT(review->rows[4].cost.share.value, review->rows[1].cost.share.value);
    EXPECT_EQ(review->jobs.size(), 10U);
    EXPECT_EQ(review->pathTerms.months, 18);
    // One path with every life: the same share as all together, 1 in so many of its price.
    ASSERT_EQ(review->byPath.size(), 1U);
    ASSERT_TRUE(review->byPath[0].cost);
    EXPECT_EQ(review->byPath[0].cost->share.value, review->rows[4].cost.share.value);
    EXPECT_NEAR(*review->byPath[0].ofPrice,
                review->rows[4].cost.share.value * 50'000 /
                    static_cast<double>(s.shelf.find(s.phasers)->price.minor),
                1e-12);
    lives.resize(12);
    EXPECT_EQ(reviewWarranty(lives, costs, settings, names(), DistanceUnit::Miles).error().code,
              ErrorCode::NotEstimable);
}

TEST_F(OwnerReview, SetsTheWarrantyOfEachPathApartAndSaysWhereTooFewCameBack) {
    for (int i = 0; i < 40; ++i) {
        const LifeState state = i % 4 == 0 ? LifeState::CameBack : LifeState::Holding;
        add(16'000 + 1'500 * i, state);
        add(4'000 + 500 * i, i < 30 ? state : LifeState::Holding).life.path = s.valves;
    }
    for (LifeRecord& record : lives)
        if (record.life.path == s.valves && record.life.known > miles(7'000))
            record.life.state = LifeState::Holding;
    const auto few = reviewWarranty(lives, {}, {}, names(), DistanceUnit::Miles, 40);
    ASSERT_TRUE(few) << few.error().detail;
    EXPECT_EQ(few->pathTerms.months, 24) << "two years where the shop has no terms of its own";
    ASSERT_EQ(few->byPath.size(), 2U);
    const WarrantyPath& valves = few->byPath[few->byPath[0].name == "Oil control valves" ? 0 : 1];
    const WarrantyPath& phasers = few->byPath[few->byPath[0].name == "Oil control valves" ? 1 : 0];
    EXPECT_EQ(valves.comebacks, 2);
    EXPECT_FALSE(valves.cost);
    EXPECT_EQ(valves.why, "too few to say");
    ASSERT_TRUE(phasers.cost);
    EXPECT_FALSE(phasers.ofPrice) << "no comeback has a cost";
    EXPECT_EQ(phasers.jobs.size(), 10U);
}

} // namespace
} // namespace milehold::core
