// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/validation.h"
#include "core/shop/vin.h"
#include "storage/disk_room.h"
#include "storage/exchange/exchange_store.h"
#include "storage/exchange/import_rows.h"
#include "storage/exchange/records_file.h"
#include "storage/exchange/sheet.h"
#include "storage/make_id.h"

#include <algorithm>
#include <optional>

namespace milehold::storage {

using core::ErrorCode;

namespace {

/// Which column of the sheet each cell of a row belongs to.
template <class Line>
core::Result<std::vector<const SheetColumn<Line>*>>
readHeader(CsvRows& rows, const std::optional<std::vector<std::string>>& mapped) {
    const auto more = rows.next();
    if (!more)
        return core::failureOf(more);
    const auto& columns = sheetColumns<Line>();
    std::string all;
    for (const auto& column : columns)
        all += (all.empty() ? "" : ", ") + std::string(column.name);
    if (!*more)
        return core::fail(ErrorCode::InvalidInput,
                          rows.place() + ": the file is empty; expected a header row with " + all);
    if (mapped && mapped->size() != rows.cells().size())
        return core::fail(ErrorCode::InvalidInput, rows.place() + ": the header has " +
                                                       std::to_string(rows.cells().size()) +
                                                       " cells; expected " + std::to_string(mapped->size()));
    std::vector<const SheetColumn<Line>*> header;
    for (std::size_t i = 0; i < rows.cells().size(); ++i) {
        const std::string_view cell = mapped ? std::string_view(mapped->at(i)) : rows.cells()[i];
        if (mapped && cell.empty()) {
            header.push_back(nullptr);
            continue;
        }
        const auto found = std::ranges::find(columns, cell, &SheetColumn<Line>::name);
        if (found == columns.end())
            return core::fail(ErrorCode::InvalidInput, rows.place() + ": column '" + std::string(cell) +
                                                           "' is unknown; expected some of " + all);
        if (std::ranges::find(header, &*found) != header.end())
            return core::fail(ErrorCode::InvalidInput, rows.place() + ": column '" + std::string(cell) +
                                                           "' stands twice; expected it once");
        header.push_back(&*found);
    }
    for (const auto& column : columns)
        if (column.required && std::ranges::find(header, &column) == header.end())
            return core::fail(ErrorCode::InvalidInput, rows.place() + ": column '" +
                                                           std::string(column.name) +
                                                           "' is missing; it is required");
    return header;
}

/// Reads one row into a line; says of each cell that cannot be taken what was expected.
template <class Line>
Line readLine(const CsvRows& rows, const std::vector<const SheetColumn<Line>*>& header,
              const SheetContext& context, std::vector<BadRow>& bad) {
    Line line;
    if (rows.cells().size() != header.size()) {
        bad.push_back({rows.line(), "",
                       "the row has " + std::to_string(rows.cells().size()) + " cells; expected " +
                           std::to_string(header.size()) + " as in the header"});
        return line;
    }
    for (std::size_t i = 0; i < header.size(); ++i) {
        if (header[i] == nullptr)
            continue;
        const auto& column = *header[i];
        const std::string_view cell = rows.cells()[i];
        std::optional<std::string> expected;
        // An invisible mark that files begin with: Qt drops it at the beginning of a text, so that what is
        // stored would not be what was read.
        if (cell.starts_with("\xEF\xBB\xBF"))
            expected = "text without the invisible mark U+FEFF";
        else if (!cell.empty())
            expected = column.read(line, cell, context);
        else if (column.required)
            expected = "a value";
        if (expected)
            bad.push_back({rows.line(), std::string(column.name), "expected " + *expected});
    }
    return line;
}

template <class Line>
core::Result<void> importInto(RowSaver& saver, const SheetContext& context, CsvRows& rows,
                              const std::string& name, ImportReport& report, const ImportOptions& options) {
    const auto header = readHeader<Line>(rows, options.columns);
    if (!header)
        return core::failureOf(header);
    while (true) {
        const auto more = rows.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            return {};
        ++report.rows;
        const auto badBefore = report.bad.size();
        Line line = readLine<Line>(rows, *header, context, report.bad);
        if (report.bad.size() > badBefore)
            continue;
        saver.startRow(rows.line());
        if (auto saved = saver.save(std::move(line)); !saved)
            return core::fail(saved.error().code,
                              name + ":" + std::to_string(rows.line()) + ": " + saved.error().detail);
    }
}

} // namespace

core::Result<ImportReport> importRecords(Shop& shop, RecordFile file, ByteSource source,
                                         const std::string& name, const ImportOptions& options) {
    if (!options.dryRun) {
        const auto room = roomOf(shop.folder());
        if (!room)
            return core::failureOf(room);
        if (auto enough = requireRoom(*room); !enough)
            return core::failureOf(enough);
    }
    auto context = shop.exchange().context();
    if (!context)
        return core::failureOf(context);
    CsvRows rows(std::move(source), name);
    ImportReport report;
    RowSaver saver(shop, options.update, report);
    std::optional<core::Error> failure;
    // Rows are saved one after another in one unit of work, so that a row may name an earlier one; the unit
    // is kept only when every row was good, or when the bad ones were to be left out.
    const auto done = shop.together([&]() -> core::Result<void> {
        core::Result<void> read;
        switch (file) {
        case RecordFile::Customers:
            read = importInto<core::Customer>(saver, *context, rows, name, report, options);
            break;
        case RecordFile::Vehicles:
            read = importInto<VehicleLine>(saver, *context, rows, name, report, options);
            break;
        case RecordFile::Jobs:
            read = importInto<JobLine>(saver, *context, rows, name, report, options);
            break;
        case RecordFile::FollowUps:
            read = importInto<FollowUpLine>(saver, *context, rows, name, report, options);
            break;
        case RecordFile::Odometers:
            read = importInto<OdometerLine>(saver, *context, rows, name, report, options);
            break;
        }
        if (!read) {
            failure = read.error();
            return read;
        }
        if (options.dryRun || (!report.bad.empty() && !options.goodRowsOnly))
            return core::fail(ErrorCode::InvalidInput, "nothing is kept");
        return {};
    });
    if (failure)
        return tl::unexpected(*failure);
    report.kept = done.has_value();
    if (!done && !options.dryRun && (report.bad.empty() || options.goodRowsOnly))
        return core::failureOf(done); // the commit itself failed
    return report;
}

} // namespace milehold::storage
