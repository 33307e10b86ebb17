// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/cells.h"

#include <algorithm>
#include <array>
#include <charconv>

namespace milehold::storage {

namespace {

/// What spreadsheets are known to take for the beginning of a formula or to strip before looking for one.
bool beginsLikeAFormula(std::string_view text) {
    while (text.starts_with(' '))
        text.remove_prefix(1);
    constexpr std::array<std::string_view, 11> kBeginnings = {
        "=", "+", "-", "@", "\t", "\r", "\n", "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"};
    return std::ranges::any_of(kBeginnings, [&](std::string_view begin) { return text.starts_with(begin); });
}

bool needsGuard(std::string_view text) {
    // Text that already looks guarded is guarded once more, so that taking one away is always right.
    while (text.starts_with('\''))
        text.remove_prefix(1);
    return beginsLikeAFormula(text);
}

std::string quoted(std::string_view text) {
    std::string result = "\"";
    for (const char c : text) {
        if (c == '"')
            result += '"';
        result += c;
    }
    return result + '"';
}

bool isBare(std::string_view entry, char separator) {
    return !entry.empty() && entry.front() != ' ' && entry.back() != ' ' &&
           entry.find(separator) == std::string_view::npos &&
           entry.find_first_of("\"\r\n") == std::string_view::npos;
}

} // namespace

std::string guarded(std::string_view text) {
    return needsGuard(text) ? "'" + std::string(text) : std::string(text);
}

std::string unguarded(std::string_view cell) {
    if (cell.starts_with('\'') && needsGuard(cell.substr(1)))
        cell.remove_prefix(1);
    return std::string(cell);
}

std::string csvCell(std::string_view cell) {
    // At the beginning of a file U+FEFF is taken for the file's own mark, unless a quotation mark stands
    // before it.
    const bool stands =
        cell.find_first_of(",\"\r\n") == std::string_view::npos && !cell.starts_with("\xEF\xBB\xBF");
    return stands ? std::string(cell) : quoted(cell);
}

std::string joinedList(const std::vector<std::string>& entries, char separator) {
    std::string cell;
    for (const auto& entry : entries) {
        if (!cell.empty()) {
            cell += separator;
            cell += ' ';
        }
        cell += isBare(entry, separator) ? entry : quoted(entry);
    }
    return cell;
}

std::optional<std::vector<std::string>> splitList(std::string_view cell, char separator) {
    std::vector<std::string> entries;
    std::size_t at = 0;
    const auto skipBlanks = [&] {
        while (at < cell.size() && cell[at] == ' ')
            ++at;
    };
    skipBlanks();
    if (at == cell.size())
        return entries;
    while (true) {
        skipBlanks();
        std::string entry;
        if (at < cell.size() && cell[at] == '"') {
            for (++at;; ++at) {
                if (at == cell.size())
                    return std::nullopt;
                if (cell[at] != '"') {
                    entry += cell[at];
                } else if (at + 1 < cell.size() && cell[at + 1] == '"') {
                    entry += cell[at++];
                } else {
                    break;
                }
            }
            ++at;
            skipBlanks();
            if (at < cell.size() && cell[at] != separator)
                return std::nullopt;
        } else {
            const auto end = std::min(cell.find(separator, at), cell.size());
            entry = std::string(cell.substr(at, end - at));
            entry.erase(entry.find_last_not_of(' ') + 1);
            at = end;
        }
        entries.push_back(std::move(entry));
        if (at == cell.size())
            return entries;
        ++at; // the separator
    }
}

std::string distanceCell(core::Distance distance, core::DistanceUnit unit) {
    const std::int64_t whole = distance.whole(unit);
    if (core::Distance::from(whole, unit) == distance)
        return std::to_string(whole);
    return std::to_string(distance.metres()) + " m";
}

std::optional<core::Distance> distanceFromCell(std::string_view cell, core::DistanceUnit unit) {
    using core::DistanceUnit;
    bool isMetres = false;
    const auto ending = [&](std::string_view end) {
        if (!cell.ends_with(end))
            return false;
        cell.remove_suffix(end.size());
        return true;
    };
    if (ending(" mi")) {
        unit = DistanceUnit::Miles;
    } else if (ending(" km")) {
        unit = DistanceUnit::Kilometres;
    } else {
        isMetres = ending(" m");
    }
    const auto number = wholeFromCell(cell);
    if (!number)
        return std::nullopt;
    if (isMetres)
        return core::Distance::fromMetres(*number);
    if (*number < -core::Distance::kMost || *number > core::Distance::kMost)
        return std::nullopt;
    return core::Distance::from(*number, unit);
}

std::optional<std::int64_t> wholeFromCell(std::string_view cell) {
    std::int64_t number = 0;
    const auto [rest, problem] = std::from_chars(cell.data(), cell.data() + cell.size(), number);
    if (problem != std::errc{} || rest != cell.data() + cell.size())
        return std::nullopt;
    return number;
}

std::optional<bool> yesFromCell(std::string_view cell) {
    if (cell == "yes")
        return true;
    if (cell == "no")
        return false;
    return std::nullopt;
}

} // namespace milehold::storage
