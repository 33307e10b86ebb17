// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"
#include "core/shop/id.h"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

namespace milehold::core {

/// One call as a day in a calendar. Texts are UTF-8 and tell of people no more than who calls needs.
struct CalendarCall {
    JobId job; ///< its key names the entry, so that reading the file again replaces it
    Date on;
    std::string summary;
    std::string description; ///< may be blank; lines end with `\n`
};

/// The calls as an iCalendar file: a whole-day event each, busy for nobody, without an alarm.
///
/// `madeAt` is when the file was made. Lines end with CRLF and are folded at 75 octets, never inside a
/// character; control characters that no text may hold are left out. Errors: InvalidInput for no call, a day
/// that is none, a null key. Source: RFC 5545, Internet Calendaring and Scheduling Core Object
/// Specification, 3.1, 3.3.11, 3.4, 3.6.1.
Result<std::string> callCalendar(std::span<const CalendarCall> calls, Moment madeAt);

/// The day of each of `count` calls: so many a working day (Monday to Friday), from `from` on.
std::vector<Date> callDays(std::size_t count, Date from, std::size_t aDay = 10);

} // namespace milehold::core
