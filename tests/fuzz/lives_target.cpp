// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/cells.h"
#include "storage/exchange/csv_rows.h"
#include "storage/exchange/lives_table.h"
#include "tests/fuzz/promise.h"
#include "tests/fuzz/targets.h"

#include <cmath>
#include <string>
#include <vector>

namespace milehold::fuzz {

namespace {

using Table = std::vector<std::vector<std::string>>;

/// Empty when the bytes are no table.
Table tableOf(std::string_view bytes, bool& isTable) {
    storage::CsvRows rows(storage::bytesOf(bytes), "fuzz");
    Table table;
    while (true) {
        const auto more = rows.next();
        isTable = more.has_value();
        if (!more || !*more)
            return table;
        auto& row = table.emplace_back();
        for (const auto cell : rows.cells())
            row.emplace_back(cell);
    }
}

void writeAndReadAgain(const Table& table) {
    std::string text;
    for (const auto& row : table) {
        for (std::size_t i = 0; i < row.size(); ++i)
            text += (i == 0 ? "" : ",") + storage::csvCell(row[i]);
        // A row of one blank cell is a line without characters, which is skipped.
        if (row.size() == 1 && row[0].empty())
            text += "\"\"";
        text += "\n";
    }
    bool isTable = false;
    const Table again = tableOf(text, isTable);
    promise(isTable, "a written table can be read");
    promise(again == table, "a written table reads back as it was");
}

void guardCells(const Table& table) {
    for (const auto& row : table) {
        for (const auto& cell : row) {
            const std::string guarded = storage::guarded(cell);
            promise(storage::unguarded(guarded) == cell, "a guarded cell comes back");
            const auto first = guarded.find_first_not_of(' ');
            promise(first == std::string::npos ||
                        std::string_view("=+-@\t\r\n").find(guarded[first]) == std::string_view::npos,
                    "no written cell is a formula");
            if (const auto list = storage::splitList(cell, ';')) {
                const auto joined = storage::joinedList(*list, ';');
                promise(storage::splitList(joined, ';') == list, "a list comes back");
            }
        }
    }
}

} // namespace

void lives(std::string_view bytes) {
    bool isTable = false;
    const Table table = tableOf(bytes, isTable);
    if (isTable) {
        writeAndReadAgain(table);
        guardCells(table);
    }
    storage::LivesTableOptions options;
    options.histories = !bytes.empty() && (static_cast<unsigned char>(bytes.back()) & 1U) != 0;
    if (isTable && !table.empty() && table.front().size() < 20)
        options.factors = table.front();
    const auto read = storage::readLivesTable(storage::bytesOf(bytes), "fuzz", options);
    promise(!read || isTable, "what is no table is no lives table");
    if (!read)
        promise(read.error().detail.starts_with("fuzz"), "an error says where");
}

} // namespace milehold::fuzz
