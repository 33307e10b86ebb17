// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quantity/date.h"

#include <cstdio>

namespace milehold::core {

namespace {

/// The number that exactly `count` decimal digits at `at` spell; -1 when they are not all digits.
int digitsAt(std::string_view text, std::size_t at, std::size_t count) {
    int value = 0;
    for (std::size_t i = at; i < at + count; ++i) {
        if (text[i] < '0' || text[i] > '9')
            return -1;
        value = value * 10 + (text[i] - '0');
    }
    return value;
}

} // namespace

std::string toIso(Date date) {
    if (!date.ok())
        return {};
    char text[32];
    std::snprintf(text, sizeof text, "%04d-%02u-%02u", static_cast<int>(date.year()),
                  static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
    return text;
}

std::optional<Date> dateFromIso(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-')
        return std::nullopt;
    const int year = digitsAt(text, 0, 4);
    const int month = digitsAt(text, 5, 2);
    const int day = digitsAt(text, 8, 2);
    if (year < 1 || month < 1 || day < 1)
        return std::nullopt;
    const Date date{std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)),
                    std::chrono::day(static_cast<unsigned>(day))};
    if (!date.ok())
        return std::nullopt;
    return date;
}

std::string toIso(Moment moment) {
    const auto day = std::chrono::floor<std::chrono::days>(moment);
    const std::chrono::hh_mm_ss<std::chrono::milliseconds> time(moment - day);
    char text[32];
    std::snprintf(text, sizeof text, "T%02d:%02d:%02d.%03dZ", static_cast<int>(time.hours().count()),
                  static_cast<int>(time.minutes().count()), static_cast<int>(time.seconds().count()),
                  static_cast<int>(time.subseconds().count()));
    return toIso(Date(day)) + text;
}

std::optional<Moment> momentFromIso(std::string_view text) {
    if (text.size() != 24 || text[10] != 'T' || text[13] != ':' || text[16] != ':' || text[19] != '.' ||
        text[23] != 'Z')
        return std::nullopt;
    const auto date = dateFromIso(text.substr(0, 10));
    const int hour = digitsAt(text, 11, 2);
    const int minute = digitsAt(text, 14, 2);
    const int second = digitsAt(text, 17, 2);
    const int millisecond = digitsAt(text, 20, 3);
    if (!date || hour < 0 || hour > 23 || minute < 0 || minute > 59 || second < 0 || second > 59 ||
        millisecond < 0)
        return std::nullopt;
    return Moment(std::chrono::sys_days(*date)) + std::chrono::hours(hour) + std::chrono::minutes(minute) +
           std::chrono::seconds(second) + std::chrono::milliseconds(millisecond);
}

std::int64_t daysBetween(Date from, Date to) {
    return (std::chrono::sys_days(to) - std::chrono::sys_days(from)).count();
}

Date addDays(Date date, std::int64_t days) {
    return Date(std::chrono::sys_days(date) + std::chrono::days(days));
}

Date addMonths(Date date, int months) {
    const Date moved = date + std::chrono::months(months);
    if (moved.ok())
        return moved;
    return moved.year() / moved.month() / std::chrono::last;
}

} // namespace milehold::core
