// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/sheet.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdio>

namespace milehold::cli {

namespace {

// Whole numbers in full, others to six significant digits: enough to read, and never 1e+06 for a mileage.
// What no vehicle runs, such as the upper limit of a life that hardly bends, is a power of ten.
std::string readable(double number) {
    if (number == std::floor(number) && std::fabs(number) < 1e15) {
        char text[32];
        return {text, std::to_chars(text, text + sizeof text, static_cast<long long>(number)).ptr};
    }
    const double size = std::fabs(number);
    const int decimals = size >= 1e5 ? 1 : size >= 1 ? 5 - static_cast<int>(std::floor(std::log10(size))) : 6;
    char text[64];
    if (size < 1e-4 || size >= 1e15)
        (void)std::snprintf(text, sizeof text, "%.5e", number);
    else
        (void)std::snprintf(text, sizeof text, "%.*f", decimals, number);
    return text;
}

std::string shown(const Cell& cell) {
    if (const double* number = std::get_if<double>(&cell))
        return std::isfinite(*number) ? readable(*number) : "-";
    if (const std::string* words = std::get_if<std::string>(&cell))
        return *words;
    return "-";
}

// Columns are aligned by characters: a continuation byte of UTF-8 takes no place.
std::size_t widthOf(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

void appendPadded(std::string& out, const std::string& text, std::size_t width, bool left) {
    const std::size_t own = widthOf(text);
    const std::size_t blanks = width > own ? width - own : 0;
    if (!left)
        out.append(blanks, ' ');
    out += text;
    if (left)
        out.append(blanks, ' ');
}

void appendSheetText(std::string& out, const Sheet& sheet) {
    if (!out.empty())
        out += '\n';
    if (!sheet.title.empty())
        out += sheet.title + '\n';
    const std::size_t columns = sheet.columns.size();
    std::vector<std::size_t> widths(columns);
    std::vector<bool> words(columns, false);
    std::vector<std::vector<std::string>> texts;
    texts.reserve(sheet.rows.size());
    for (std::size_t c = 0; c < columns; ++c)
        widths[c] = widthOf(sheet.columns[c]);
    for (const auto& row : sheet.rows) {
        auto& line = texts.emplace_back();
        for (std::size_t c = 0; c < columns; ++c) {
            line.push_back(shown(row[c]));
            widths[c] = std::max(widths[c], widthOf(line.back()));
            if (std::holds_alternative<std::string>(row[c]))
                words[c] = true;
        }
    }
    const auto appendLine = [&](const std::vector<std::string>& line) {
        const std::size_t start = out.size();
        for (std::size_t c = 0; c < columns; ++c) {
            out += c == 0 ? "  " : "  ";
            appendPadded(out, line[c], widths[c], words[c]);
        }
        while (out.size() > start && out.back() == ' ')
            out.pop_back();
        out += '\n';
    };
    appendLine(sheet.columns);
    for (const auto& line : texts)
        appendLine(line);
}

void appendCsvCell(std::string& out, std::string_view text) {
    if (text.find_first_of(",\"\r\n") == std::string_view::npos) {
        out += text;
        return;
    }
    out += '"';
    for (const char c : text) {
        if (c == '"')
            out += '"';
        out += c;
    }
    out += '"';
}

} // namespace

std::string fullDigits(double number) {
    char text[32];
    return {text, std::to_chars(text, text + sizeof text, number).ptr};
}

void appendText(std::string& out, const std::vector<Sheet>& sheets) {
    for (const Sheet& sheet : sheets)
        appendSheetText(out, sheet);
}

void appendCsv(std::string& out, const std::vector<Sheet>& sheets) {
    std::vector<std::string> columns;
    for (const Sheet& sheet : sheets)
        for (const std::string& column : sheet.columns)
            if (std::find(columns.begin(), columns.end(), column) == columns.end())
                columns.push_back(column);

    out += "part";
    for (const std::string& column : columns) {
        out += ',';
        appendCsvCell(out, column);
    }
    out += '\n';
    for (const Sheet& sheet : sheets) {
        std::vector<std::size_t> from(columns.size());
        for (std::size_t c = 0; c < columns.size(); ++c)
            from[c] = static_cast<std::size_t>(
                std::find(sheet.columns.begin(), sheet.columns.end(), columns[c]) - sheet.columns.begin());
        for (const auto& row : sheet.rows) {
            appendCsvCell(out, sheet.part);
            for (const std::size_t c : from) {
                out += ',';
                if (c == row.size())
                    continue;
                if (const double* number = std::get_if<double>(&row[c])) {
                    if (std::isfinite(*number))
                        out += fullDigits(*number);
                } else if (const std::string* words = std::get_if<std::string>(&row[c])) {
                    appendCsvCell(out, *words);
                }
            }
            out += '\n';
        }
    }
}

void appendSheets(Session& session, const std::vector<Sheet>& sheets) {
    if (session.format == Format::Csv)
        appendCsv(session.out, sheets);
    else
        appendText(session.out, sheets);
}

} // namespace milehold::cli
