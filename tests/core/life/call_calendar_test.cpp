// SPDX-License-Identifier: GPL-3.0-or-later
// Reads a calendar file by the grammar of RFC 5545 (3.1 content lines, 3.3.4 DATE, 3.3.5 DATE-TIME, 3.3.11
// TEXT, 3.6.1 VEVENT), written here from the standard and apart from the writer.
#include "core/life/call_calendar.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

#include <map>
#include <optional>
#include <regex>

namespace milehold::core {
namespace {

using namespace testing_support;

struct ContentLine {
    std::string name;
    std::string params;
    std::string value;
};

/// The physical lines of a file; empty when one does not end with CRLF, is longer than 75 octets or is not
/// UTF-8 by itself.
std::optional<std::vector<std::string>> physicalLines(const std::string& file) {
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < file.size();) {
        const auto end = file.find("\r\n", at);
        if (end == std::string::npos || end - at > 75)
            return std::nullopt;
        lines.push_back(file.substr(at, end - at));
        if (lines.back().find_first_of("\r\n") != std::string::npos)
            return std::nullopt;
        // A line that begins or ends within a character begins with a continuation octet, or lacks one.
        const auto isContinuation = [](char c) { return (static_cast<unsigned char>(c) & 0xc0) == 0x80; };
        const std::size_t begin = !lines.back().empty() && lines.back()[0] == ' ' ? 1 : 0;
        if (lines.back().size() > begin && isContinuation(lines.back()[begin]))
            return std::nullopt;
        at = end + 2;
    }
    return lines;
}

/// Unfolds and splits: contentline = name *(";" param) ":" value.
std::optional<std::vector<ContentLine>> contentLines(const std::string& file) {
    const auto physical = physicalLines(file);
    if (!physical)
        return std::nullopt;
    std::vector<std::string> unfolded;
    for (const auto& line : *physical) {
        if (line.empty())
            return std::nullopt;
        if (line[0] == ' ' || line[0] == '\t') {
            if (unfolded.empty())
                return std::nullopt;
            unfolded.back() += line.substr(1);
        } else {
            unfolded.push_back(line);
        }
    }
    static const std::regex kLine(
        "([A-Za-z0-9-]+)((?:;[A-Za-z0-9-]+=[^\\x00-\\x1f\\x7f\";:,]*)*):([^\\x00-\\x08\\x0a-\\x1f\\x7f]*)");
    std::vector<ContentLine> lines;
    for (const auto& line : unfolded) {
        std::smatch parts;
        if (!std::regex_match(line, parts, kLine))
            return std::nullopt;
        lines.push_back({parts[1], parts[2], parts[3]});
    }
    return lines;
}

/// TEXT, unescaped; empty where a comma, a semicolon or a backslash stands alone.
std::optional<std::string> textOf(const std::string& value) {
    std::string text;
    for (std::size_t i = 0; i < value.size(); ++i) {
        if (value[i] == ',' || value[i] == ';')
            return std::nullopt;
        if (value[i] != '\\') {
            text += value[i];
            continue;
        }
        if (++i == value.size())
            return std::nullopt;
        if (value[i] == 'n' || value[i] == 'N')
            text += '\n';
        else if (value[i] == '\\' || value[i] == ',' || value[i] == ';')
            text += value[i];
        else
            return std::nullopt;
    }
    return text;
}

using Event = std::map<std::string, ContentLine>;

/// The events of a file that is icalobject = BEGIN calprops 1*component END, each property at most once.
std::optional<std::vector<Event>> eventsOf(const std::string& file) {
    const auto lines = contentLines(file);
    if (!lines || lines->size() < 2)
        return std::nullopt;
    const auto is = [&](std::size_t i, const char* name, const char* value) {
        return (*lines)[i].name == name && (*lines)[i].params.empty() && (*lines)[i].value == value;
    };
    if (!is(0, "BEGIN", "VCALENDAR") || !is(lines->size() - 1, "END", "VCALENDAR"))
        return std::nullopt;
    std::map<std::string, int> ofCalendar;
    std::vector<Event> events;
    bool within = false;
    for (std::size_t i = 1; i + 1 < lines->size(); ++i) {
        const ContentLine& line = (*lines)[i];
        if (is(i, "BEGIN", "VEVENT")) {
            if (within)
                return std::nullopt;
            within = true;
            events.emplace_back();
        } else if (is(i, "END", "VEVENT")) {
            within = false;
        } else if (within) {
            if (!events.back().emplace(line.name, line).second)
                return std::nullopt;
        } else if (!events.empty()) {
            return std::nullopt; // calendar properties come first
        } else {
            ++ofCalendar[line.name];
        }
    }
    if (within || events.empty() || ofCalendar["VERSION"] != 1 || ofCalendar["PRODID"] != 1)
        return std::nullopt;
    static const std::regex kStamp("[0-9]{8}T[0-9]{6}Z");
    static const std::regex kDate("[0-9]{8}");
    for (const auto& event : events) {
        for (const char* needed : {"UID", "DTSTAMP", "DTSTART", "SUMMARY"})
            if (!event.contains(needed))
                return std::nullopt;
        if (!std::regex_match(event.at("DTSTAMP").value, kStamp) ||
            !std::regex_match(event.at("DTSTART").value, kDate) ||
            event.at("DTSTART").params != ";VALUE=DATE" || event.at("UID").value.empty())
            return std::nullopt;
        for (const char* text : {"SUMMARY", "DESCRIPTION"})
            if (event.contains(text) && !textOf(event.at(text).value))
                return std::nullopt;
    }
    return events;
}

const Moment kMadeAt = momentFromIso("2031-04-09T10:42:07.125Z").value();

CalendarCall someCall(std::uint8_t number) {
    return {job(number), day("2031-05-16"), "Call Ida Kestrel, 555 0142", ""};
}

TEST(CallCalendar, IsReadByTheGrammarOfTheStandard) {
    std::vector<CalendarCall> calls = {someCall(1), someCall(2)};
    // Everything that needs escaping, letters of two to four octets, and lines that fold within and beside
    // them.
    calls[1].summary = "Call \u00c5sa; B\\rje, \"the fen\": at once";
    for (int i = 0; i < 60; ++i)
        calls[1].description += i % 3 == 0 ? "\u00e4" : i % 3 == 1 ? "\u20ac" : "\U0001F527";
    calls[1].description += "\nBest time: after four; or, else, at noon\tsharp";
    const auto file = callCalendar(calls, kMadeAt);
    ASSERT_TRUE(file.has_value());
    const auto events = eventsOf(*file);
    ASSERT_TRUE(events.has_value()) << *file;
    ASSERT_EQ(events->size(), 2U);
    EXPECT_EQ(textOf(events->at(0).at("SUMMARY").value), calls[0].summary);
    EXPECT_EQ(textOf(events->at(1).at("SUMMARY").value), calls[1].summary);
    EXPECT_EQ(textOf(events->at(1).at("DESCRIPTION").value), calls[1].description);
    EXPECT_FALSE(events->at(0).contains("DESCRIPTION"));
    EXPECT_EQ(events->at(0).at("DTSTAMP").value, "20310409T104207Z");
    EXPECT_EQ(events->at(0).at("DTSTART").value, "20310516");
    EXPECT_NE(events->at(0).at("UID").value, events->at(1).at("UID").value);
    EXPECT_EQ(events->at(0).at("UID").value, toString(job(1).uuid))
        << "so that the next file replaces the entry";
}

TEST(CallCalendar, FoldsEveryLengthOfLineSoThatItUnfoldsToItself) {
    for (std::size_t length = 1; length < 400; ++length) {
        CalendarCall call = someCall(1);
        call.summary.clear();
        while (call.summary.size() < length)
            call.summary += call.summary.size() % 7 == 3 ? "\u20ac" : "x";
        const auto file = callCalendar(std::vector{call}, kMadeAt);
        ASSERT_TRUE(file.has_value());
        const auto events = eventsOf(*file);
        ASSERT_TRUE(events.has_value()) << length;
        EXPECT_EQ(events->at(0).at("SUMMARY").value, call.summary);
    }
}

TEST(CallCalendar, LeavesOutCharactersThatNoTextMayHold) {
    CalendarCall call = someCall(1);
    call.summary = std::string("a\x01\x07\r\x7f") + "b";
    const auto events = eventsOf(callCalendar(std::vector{call}, kMadeAt).value());
    ASSERT_TRUE(events.has_value());
    EXPECT_EQ(events->at(0).at("SUMMARY").value, "ab");
}

TEST(CallCalendar, RefusesWhatIsNoCall) {
    EXPECT_FALSE(callCalendar({}, kMadeAt)) << "the standard wants one component at least";
    CalendarCall call = someCall(1);
    call.on = Date{};
    EXPECT_FALSE(callCalendar(std::vector{call}, kMadeAt));
    call = someCall(1);
    call.job = {};
    EXPECT_FALSE(callCalendar(std::vector{call}, kMadeAt));
}

TEST(CallDays, AreTenAWorkingDay) {
    const auto days = callDays(25, day("2031-05-16")); // a Friday
    ASSERT_EQ(days.size(), 25U);
    EXPECT_EQ(days[0], day("2031-05-16"));
    EXPECT_EQ(days[9], day("2031-05-16"));
    EXPECT_EQ(days[10], day("2031-05-19")) << "over the weekend";
    EXPECT_EQ(days[24], day("2031-05-20"));
    EXPECT_EQ(callDays(1, day("2031-05-18"))[0], day("2031-05-19"));
}

} // namespace
} // namespace milehold::core
