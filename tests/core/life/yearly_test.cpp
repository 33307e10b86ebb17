// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/life.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

using namespace testing_support;

class Yearly : public ::testing::Test {
protected:
    YearlyDistance at(std::string_view iso) const { return yearlyDistance(past, rules, day(iso)); }
    VehicleHistory past = history();
    ShopSettings rules;
};

// Median of pairwise slopes. Source: Sen 1968, JASA 63:1379. The three slopes are 10, 30 and 50/3 miles a
// day.
TEST_F(Yearly, IsTheMedianOfPairwiseSlopes) {
    past.odometers = {reading(1, "2031-01-01", 10'000), reading(2, "2031-03-02", 10'600),
                      reading(3, "2031-04-01", 11'500)};
    const auto yearly = at("2031-04-01");
    EXPECT_EQ(yearly.source, YearlySource::Readings);
    EXPECT_EQ(yearly.readings, 3);
    EXPECT_NEAR(yearly.perYear.in(DistanceUnit::Miles), 1500.0 / 90 * 365.25, 0.01);
}

TEST_F(Yearly, IsTheMeanOfTheTwoMiddleSlopesOfAnEvenNumber) {
    // Readings 0, 100, 300, 1000 miles on days 0, 10, 20, 100: slopes 10, 15, 10, 20, 10, 8.75; median 10.
    past.odometers = {reading(1, "2031-01-01", 0), reading(2, "2031-01-11", 100),
                      reading(3, "2031-01-21", 300), reading(4, "2031-04-11", 1'000)};
    EXPECT_NEAR(at("2031-05-01").perYear.in(DistanceUnit::Miles), 10 * 365.25, 0.5);
    // Two readings of one day make no slope: 10, 20 and none; the median of two is their mean.
    past.odometers = {reading(1, "2031-01-01", 0), reading(2, "2031-04-11", 1'000),
                      reading(3, "2031-04-11", 2'000)};
    EXPECT_NEAR(at("2031-05-01").perYear.in(DistanceUnit::Miles), 15 * 365.25, 0.5);
}

TEST_F(Yearly, IsNotMovedByOneWildReading) {
    for (std::uint8_t i = 0; i < 9; ++i) {
        OdometerReading taken = reading(i, "2030-01-01", 10'000 + 900 * i);
        taken.date = addDays(taken.date, 30 * i);
        past.odometers.push_back(taken);
    }
    past.odometers[4].shown = miles(99'999);
    EXPECT_NEAR(at("2031-01-01").perYear.in(DistanceUnit::Miles), 30 * 365.25, 0.5);
}

TEST_F(Yearly, IsTheShopsDefaultBelowSixtyDaysOfReadings) {
    past.odometers = {reading(1, "2031-01-01", 10'000), reading(2, "2031-03-01", 12'000)}; // 59 days
    EXPECT_EQ(at("2031-04-01"), (YearlyDistance{rules.defaultYearly, YearlySource::ShopDefault, 0}));
    past.odometers[1].date = day("2031-03-02");
    EXPECT_EQ(at("2031-04-01").source, YearlySource::Readings);
    past.odometers.clear();
    EXPECT_EQ(at("2031-04-01").source, YearlySource::ShopDefault);
}

TEST_F(Yearly, ReadsOnlyTheLastThirtySixMonths) {
    past.odometers = {reading(1, "2027-01-01", 0), reading(2, "2028-04-01", 50'000),
                      reading(3, "2031-04-01", 53'000)};
    EXPECT_NEAR(at("2031-04-01").perYear.in(DistanceUnit::Miles), 1'000.0 * 1095.75 / 1095, 0.5);
    EXPECT_EQ(at("2031-04-02").source, YearlySource::ShopDefault) << "only one reading is left";
    EXPECT_EQ(at("2028-03-31").source, YearlySource::ShopDefault) << "later ones are not known yet";
}

TEST_F(Yearly, CountsAJobAndItsStoredReadingOnceAndLeavesEstimatesOut) {
    past.jobs = {repair(1, "2031-01-01", 10'000)};
    past.odometers = {reading(1, "2031-01-01", 10'000), reading(2, "2031-04-11", 11'000)};
    past.followUps = {heard(1, 1, "2031-04-01", FollowUpOutcome::Quiet, 30'000)};
    past.followUps[0].odometerEstimated = true;
    EXPECT_EQ(at("2031-05-01").readings, 2);
    EXPECT_NEAR(at("2031-05-01").perYear.in(DistanceUnit::Miles), 10 * 365.25, 0.5);
}

TEST_F(Yearly, IsNeverNegative) {
    past.odometers = {reading(1, "2031-01-01", 20'000), reading(2, "2031-04-11", 10'000)};
    EXPECT_EQ(at("2031-05-01").perYear, Distance());
}

TEST_F(Yearly, AddsAReplacedInstrumentBack) {
    past.odometers = {reading(1, "2031-01-01", 20'000), reading(2, "2031-02-20", 0),
                      reading(3, "2031-04-11", 500)};
    past.odometers[1].resetOffset = miles(20'500);
    EXPECT_NEAR(at("2031-05-01").perYear.in(DistanceUnit::Miles), 10 * 365.25, 0.5);
}

} // namespace
} // namespace milehold::core
