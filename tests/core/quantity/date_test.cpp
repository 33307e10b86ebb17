// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quantity/date.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using namespace std::chrono_literals;

TEST(Date, IsWrittenAsInIso8601) {
    EXPECT_EQ(toIso(Date{2031y / 4 / 9}), "2031-04-09");
    EXPECT_EQ(toIso(Date{std::chrono::year(7) / 12 / 31}), "0007-12-31");
    EXPECT_EQ(toIso(Date{}), "");
}

TEST(Date, ReadsBackEveryDayOfACentury) {
    for (Date date = 1999y / 12 / 25; date < Date{2100y / 3 / 5}; date = addDays(date, 1))
        ASSERT_EQ(dateFromIso(toIso(date)), date);
}

TEST(Date, RefusesWhatIsNotADateInExactlyThatForm) {
    for (const char* text :
         {"", "2031-4-9", "2031-04-31", "2031-02-29", "2031-00-10", "2031-13-01", "2031-04-00", "2031/04/09",
          "20310409", "2031-04-09 ", " 2031-04-09", "2031-04-0x", "0000-01-01", "-031-04-09", "+031-04-09"})
        EXPECT_FALSE(dateFromIso(text)) << text;
    EXPECT_TRUE(dateFromIso("2032-02-29"));
    EXPECT_FALSE(dateFromIso("2100-02-29")); // no leap year: a century not divisible by 400
}

TEST(Moment, IsWrittenInUtcToTheMillisecond) {
    const Moment moment = Moment(std::chrono::sys_days(2031y / 4 / 9)) + 10h + 42min + 7s + 125ms;
    EXPECT_EQ(toIso(moment), "2031-04-09T10:42:07.125Z");
    EXPECT_EQ(momentFromIso("2031-04-09T10:42:07.125Z"), moment);
}

TEST(Moment, BeforeTheEpochIsWrittenRight) {
    const Moment moment{-1ms};
    EXPECT_EQ(toIso(moment), "1969-12-31T23:59:59.999Z");
    EXPECT_EQ(momentFromIso("1969-12-31T23:59:59.999Z"), moment);
}

TEST(Moment, RefusesOtherForms) {
    for (const char* text :
         {"2031-04-09T10:42:07Z", "2031-04-09 10:42:07.125Z", "2031-04-09T24:00:00.000Z",
          "2031-04-09T10:60:00.000Z", "2031-04-09T10:42:60.000Z", "2031-04-09T10:42:07.125",
          "2031-02-30T10:42:07.125Z", "2031-04-09T10:42:07.125z"})
        EXPECT_FALSE(momentFromIso(text)) << text;
}

TEST(Date, CountsDaysBothWaysAcrossLeapDays) {
    EXPECT_EQ(daysBetween(2032y / 2 / 28, 2032y / 3 / 1), 2);
    EXPECT_EQ(daysBetween(2031y / 3 / 1, 2031y / 2 / 28), -1);
    EXPECT_EQ(daysBetween(2031y / 1 / 1, 2032y / 1 / 1), 365);
}

TEST(Date, AddsMonthsAndStaysInTheMonth) {
    EXPECT_EQ(addMonths(2031y / 1 / 31, 1), Date(2031y / 2 / 28));
    EXPECT_EQ(addMonths(2032y / 1 / 31, 1), Date(2032y / 2 / 29));
    EXPECT_EQ(addMonths(2031y / 3 / 31, -1), Date(2031y / 2 / 28));
    EXPECT_EQ(addMonths(2031y / 11 / 15, 18), Date(2033y / 5 / 15));
}

} // namespace
} // namespace milehold::core
