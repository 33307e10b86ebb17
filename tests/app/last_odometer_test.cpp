// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/last_odometer.h"

#include <gtest/gtest.h>

namespace milehold::app {
namespace {

core::Date day(int year, unsigned month, unsigned dayOfMonth) {
    return {std::chrono::year(year), std::chrono::month(month), std::chrono::day(dayOfMonth)};
}

core::OdometerReading reading(core::Date date, std::int64_t miles) {
    core::OdometerReading seen;
    seen.date = date;
    seen.shown = core::Distance::miles(miles);
    return seen;
}

TEST(LastOdometer, IsEmptyForAVehicleThatWasNeverSeen) {
    EXPECT_FALSE(lastOdometer({}, day(2031, 4, 9)).has_value());
}

TEST(LastOdometer, TakesTheNewestOfReadingsJobsAndCalls) {
    core::VehicleHistory history;
    history.odometers.push_back(reading(day(2029, 1, 5), 40'000));
    core::Job job;
    job.writtenUp = day(2030, 2, 1);
    job.delivered = day(2030, 2, 3);
    job.odometerIn = core::Distance::miles(52'000);
    job.odometerOut = core::Distance::miles(52'012);
    history.jobs.push_back(job);
    EXPECT_EQ(lastOdometer(history, day(2031, 4, 9)),
              (ShownOdometer{day(2030, 2, 3), core::Distance::miles(52'012)}));
    EXPECT_EQ(lastOdometer(history, day(2029, 6, 1)),
              (ShownOdometer{day(2029, 1, 5), core::Distance::miles(40'000)}));
}

TEST(LastOdometer, LeavesEstimatesOut) {
    core::VehicleHistory history;
    history.odometers.push_back(reading(day(2029, 1, 5), 40'000));
    core::FollowUp told;
    told.date = day(2030, 1, 5);
    told.odometer = core::Distance::miles(55'000);
    told.odometerEstimated = true;
    history.followUps.push_back(told);
    EXPECT_EQ(lastOdometer(history, day(2031, 4, 9))->shown, core::Distance::miles(40'000));
}

TEST(LastOdometer, SpeaksOfTheInstrumentThatIsInTheVehicleNow) {
    core::VehicleHistory history;
    history.odometers.push_back(reading(day(2029, 1, 5), 90'000));
    core::OdometerReading replaced = reading(day(2029, 6, 1), 10);
    replaced.resetOffset = core::Distance::miles(94'990);
    history.odometers.push_back(replaced);
    history.odometers.push_back(reading(day(2030, 6, 1), 12'000));
    EXPECT_EQ(lastOdometer(history, day(2031, 4, 9))->shown, core::Distance::miles(12'000));
}

// Two years of 365.25 days at 10,000 miles a year.
TEST(LastOdometer, GoesOnAtTheYearlyDistance) {
    const ShownOdometer last{day(2029, 1, 1), core::Distance::miles(40'000)};
    const core::Distance later = odometerOn(last, core::Distance::miles(10'000), day(2031, 1, 1));
    EXPECT_NEAR(later.in(core::DistanceUnit::Miles), 40'000 + 10'000 * 730 / 365.25, 0.01);
    EXPECT_EQ(odometerOn(last, core::Distance::miles(10'000), day(2028, 1, 1)), last.shown);
}

} // namespace
} // namespace milehold::app
