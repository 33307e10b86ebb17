// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/cells.h"
#include "storage/exchange/csv_rows.h"
#include "storage/exchange/table_sink.h"
#include "tests/fuzz/promise.h"
#include "tests/fuzz/targets.h"

#include <algorithm>
#include <array>
#include <sstream>
#include <string>
#include <vector>

namespace milehold::fuzz {

namespace {

using Table = std::vector<std::vector<std::string>>;

struct Reading {
    Table rows;
    std::string problem; ///< blank: the bytes are a table
    friend bool operator==(const Reading&, const Reading&) = default;
};

Reading read(storage::ByteSource source) {
    storage::CsvRows rows(std::move(source), "fuzz");
    Reading reading;
    while (true) {
        const auto more = rows.next();
        if (!more) {
            promise(more.error().code == core::ErrorCode::InvalidInput, "bad bytes are bad input");
            promise(more.error().detail.starts_with("fuzz:"), "an error says in which line");
            reading.problem = more.error().detail;
            return reading;
        }
        if (!*more)
            return reading;
        reading.rows.emplace_back(rows.cells().begin(), rows.cells().end());
    }
}

/// The same bytes, a few at a time: where a block ends must not matter.
storage::ByteSource inPieces(std::string_view bytes) {
    std::size_t turn = 0;
    return [bytes, turn](char* into, std::size_t room) mutable -> core::Result<std::size_t> {
        const std::size_t taken = std::min({room, bytes.size(), 1 + turn++ * 7 % 5});
        std::copy_n(bytes.data(), taken, into);
        bytes.remove_prefix(taken);
        return taken;
    };
}

std::string written(const Table& table) {
    std::ostringstream out;
    storage::CsvSink sink(out);
    for (const auto& row : table)
        promise(sink.row(row).has_value(), "a row can be written");
    promise(sink.finish().has_value(), "a table can be ended");
    return std::move(out).str();
}

/// Unicode 15, D92: decodes and compares with what the code point is written as.
bool isText(std::string_view bytes) {
    for (std::size_t i = 0; i < bytes.size();) {
        const auto byteAt = [&](std::size_t at) -> unsigned { return static_cast<unsigned char>(bytes[at]); };
        const unsigned lead = byteAt(i);
        const std::size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
        if (lead == 0 || (lead >= 0x80 && lead < 0xC0) || lead >= 0xF8 || i + length > bytes.size())
            return false;
        unsigned point = length == 1 ? lead : lead & (0xFFU >> (length + 1));
        for (std::size_t k = 1; k < length; ++k) {
            if ((byteAt(i + k) & 0xC0U) != 0x80U)
                return false;
            point = (point << 6U) | (byteAt(i + k) & 0x3FU);
        }
        constexpr std::array<unsigned, 5> kFirstOfLength = {0, 0, 0x80, 0x800, 0x10000};
        if (point < kFirstOfLength[length] || point > 0x10FFFF || (point >= 0xD800 && point <= 0xDFFF))
            return false;
        i += length;
    }
    return true;
}

/// What OWASP's page on CSV injection names, and their full-width forms, after blanks.
bool beginsAFormula(std::string_view cell) {
    const auto first = cell.find_first_not_of(' ');
    if (first == std::string_view::npos)
        return false;
    cell.remove_prefix(first);
    constexpr std::array<std::string_view, 4> kFullWidth = {"\uFF1D", "\uFF0B", "\uFF0D", "\uFF20"};
    return std::string_view("=+-@\t\r\n").find(cell.front()) != std::string_view::npos ||
           std::ranges::any_of(kFullWidth, [cell](auto form) { return cell.starts_with(form); });
}

/// A row ends at 0xfe, a cell at 0xff; no text holds either. Every row has a cell.
Table cellsOf(std::string_view bytes) {
    Table table(1, std::vector<std::string>(1));
    for (const char c : bytes) {
        if (c == '\xfe')
            table.emplace_back(1);
        else if (c == '\xff')
            table.back().emplace_back();
        else
            table.back().back() += c;
    }
    return table;
}

void holdsWhatWasWritten(const Table& table) {
    const bool allText = std::ranges::all_of(table, [](const auto& row) {
        return std::ranges::all_of(row, [](auto& cell) { return isText(cell); });
    });
    const std::string text = written(table);
    const Reading again = read(storage::bytesOf(text));
    promise(again.problem.empty() == allText, "text is read, and nothing else is");
    promise(!allText || again.rows == table, "a written table reads back as it was");
}

void guardsFormulas(Table table) {
    for (auto& row : table) {
        for (auto& cell : row) {
            std::string guarded = storage::guarded(cell);
            promise(storage::unguarded(guarded) == cell, "a guarded cell comes back");
            promise(!beginsAFormula(guarded), "no written cell is a formula");
            promise(beginsAFormula(cell) || cell.starts_with('\'') || guarded == cell,
                    "an ordinary cell is written as it is");
            cell = std::move(guarded);
        }
    }
    holdsWhatWasWritten(table);
}

} // namespace

void table(std::string_view bytes) {
    const Reading whole = read(storage::bytesOf(bytes));
    promise(read(inPieces(bytes)) == whole, "where a block ends does not matter");
    // Every other input is no table: its bytes are then any cells to write.
    const Table cells = whole.problem.empty() && !whole.rows.empty() ? whole.rows : cellsOf(bytes);
    holdsWhatWasWritten(cells);
    guardsFormulas(cells);
}

} // namespace milehold::fuzz
