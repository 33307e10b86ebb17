// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/call_calendar.h"

#include <algorithm>
#include <string_view>

namespace milehold::core {

namespace {

constexpr std::size_t kMostOctets = 75;

/// A value of type TEXT: RFC 5545, 3.3.11.
std::string escaped(std::string_view text) {
    std::string value;
    for (const char c : text) {
        const auto octet = static_cast<unsigned char>(c);
        if (c == '\n')
            value += "\\n";
        else if (c == '\\' || c == ';' || c == ',')
            (value += '\\') += c;
        else if (c == '\t' || (octet >= 0x20 && octet != 0x7f))
            value += c;
    }
    return value;
}

bool continuesCharacter(char c) {
    return (static_cast<unsigned char>(c) & 0xc0) == 0x80;
}

/// One content line, folded: RFC 5545, 3.1. The space that begins a continued line counts among its octets.
void addLine(std::string& file, std::string_view line) {
    std::size_t room = kMostOctets;
    while (line.size() > room) {
        std::size_t cut = room;
        while (cut > 0 && continuesCharacter(line[cut]))
            --cut;
        file.append(line.substr(0, cut)).append("\r\n ");
        line.remove_prefix(cut);
        room = kMostOctets - 1;
    }
    file.append(line).append("\r\n");
}

std::string digitsOf(std::string iso) {
    std::erase_if(iso, [](char c) { return c == '-' || c == ':'; });
    return iso;
}

bool isWorkingDay(Date date) {
    const std::chrono::weekday day{std::chrono::sys_days{date}};
    return day != std::chrono::Saturday && day != std::chrono::Sunday;
}

} // namespace

Result<std::string> callCalendar(std::span<const CalendarCall> calls, Moment madeAt) {
    if (calls.empty())
        return fail(ErrorCode::InvalidInput, "a calendar file holds one call at least");
    // `2031-04-09T10:42:07.125Z` becomes `20310409T104207Z`.
    const std::string stamp = digitsOf(toIso(madeAt).substr(0, 19)) + "Z";
    std::string file;
    for (const char* line :
         {"BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Milehold//Calls to make//EN", "CALSCALE:GREGORIAN"})
        addLine(file, line);
    for (const auto& call : calls) {
        if (!call.on.ok() || call.job.isNull())
            return fail(ErrorCode::InvalidInput, "a call for the calendar has no day or no job");
        addLine(file, "BEGIN:VEVENT");
        addLine(file, "UID:" + toString(call.job.uuid));
        addLine(file, "DTSTAMP:" + stamp);
        addLine(file, "DTSTART;VALUE=DATE:" + digitsOf(toIso(call.on)));
        addLine(file, "SUMMARY:" + escaped(call.summary));
        if (!call.description.empty())
            addLine(file, "DESCRIPTION:" + escaped(call.description));
        addLine(file, "CLASS:PRIVATE");
        addLine(file, "TRANSP:TRANSPARENT");
        addLine(file, "END:VEVENT");
    }
    addLine(file, "END:VCALENDAR");
    return file;
}

std::vector<Date> callDays(std::size_t count, Date from, std::size_t aDay) {
    std::vector<Date> days;
    days.reserve(count);
    Date day = from;
    for (std::size_t i = 0; i < count; ++i) {
        if (i > 0 && aDay > 0 && i % aDay == 0)
            day = addDays(day, 1);
        while (!isWorkingDay(day))
            day = addDays(day, 1);
        days.push_back(day);
    }
    return days;
}

} // namespace milehold::core
