// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <chrono>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace milehold::core {

/// A local calendar date. Default-constructed it is not a date (ok() is false).
using Date = std::chrono::year_month_day;

/// A moment in UTC, to the millisecond.
using Moment = std::chrono::sys_time<std::chrono::milliseconds>;

/// `2031-04-09`; years 0001 to 9999.
std::string toIso(Date date);
/// Empty unless the text is a real date in exactly that form.
std::optional<Date> dateFromIso(std::string_view text);

/// `2031-04-09T10:42:07.125Z`.
std::string toIso(Moment moment);
std::optional<Moment> momentFromIso(std::string_view text);

/// Days from one date to another, negative when `to` is earlier.
std::int64_t daysBetween(Date from, Date to);
Date addDays(Date date, std::int64_t days);
/// The same day so many months on, or the last day of that month.
Date addMonths(Date date, int months);

} // namespace milehold::core
