// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/office/review_csv.h"

#include <QString>

#include <charconv>
#include <string>

namespace milehold::ui {

namespace {

std::string number(double value) {
    char digits[32];
    const auto end = std::to_chars(digits, digits + sizeof digits, value);
    return {digits, end.ptr};
}

std::string number(const std::optional<double>& value) {
    return value ? number(*value) : std::string();
}

/// Quoted where it must be; text that a spreadsheet would run as a formula is kept as text.
std::string quoted(std::string text) {
    if (!text.empty() && std::string("=+-@\t\r").find(text.front()) != std::string::npos)
        text.insert(0, 1, '\'');
    if (text.find_first_of(",\"\r\n") == std::string::npos)
        return text;
    std::string result = "\"";
    for (const char c : text)
        result += c == '"' ? std::string("\"\"") : std::string(1, c);
    return result + '"';
}

void row(std::string& csv, const std::vector<std::string>& cells) {
    for (std::size_t i = 0; i < cells.size(); ++i)
        csv += (i > 0 ? "," : "") + cells[i];
    csv += "\r\n";
}

std::string unitName(const OfficeView& view) {
    return view.query.unit == core::DistanceUnit::Miles ? "mi" : "km";
}

} // namespace

QByteArray groupsCsv(const OfficeView& view) {
    const std::string unit = unitName(view);
    std::string csv;
    row(csv, {"group", "repairs", "came_back", "lost_sight", "known_" + unit, "unseen_" + unit, "evidence",
              "median_" + unit, "median_lower_" + unit, "median_upper_" + unit, "mark_" + unit,
              "watched_at_mark", "quiet_at_mark", "quiet_lower", "quiet_upper", "longest_watched_" + unit,
              "claim_at_mark", "claim_tips_at"});
    for (const OfficeGroup& group : view.groups) {
        row(csv, {quoted(group.name), std::to_string(group.lives()), std::to_string(group.comebacks()),
                  std::to_string(group.lost()), number(group.evidence.known),
                  number(group.evidence.unseen.all()), number(group.evidence.completeness),
                  number(group.median.miles), number(group.median.lower), number(group.median.upper),
                  number(view.mark), number(group.atMark.watched), number(group.atMark.chance),
                  number(group.atMark.lower), number(group.atMark.upper), number(group.curve.longestWatched),
                  number(group.claim), group.tipping ? number(group.tipping->share) : std::string()});
    }
    return QByteArray::fromStdString(csv);
}

QByteArray stepsCsv(const OfficeView& view, const std::vector<int>& rows) {
    const std::string unit = unitName(view);
    std::string csv;
    row(csv, {"group", unit, "watched", "came_back", "left", "quiet", "lower", "upper"});
    for (const int place : rows) {
        const OfficeGroup& group = view.groups[static_cast<std::size_t>(place)];
        for (std::size_t i = 0; i < group.curve.size(); ++i) {
            const core::CurveStep step = group.curve.step(i);
            row(csv, {quoted(group.name), number(step.miles), number(step.watched), number(step.comebacks),
                      number(step.left), number(step.survival), number(step.lower), number(step.upper)});
        }
    }
    return QByteArray::fromStdString(csv);
}

} // namespace milehold::ui
