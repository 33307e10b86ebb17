// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/cells.h"
#include "storage/exchange/exchange_store.h"
#include "storage/exchange/records_file.h"
#include "storage/exchange/sheet.h"

#include <array>
#include <ostream>
#include <utility>

namespace milehold::storage {

using core::ErrorCode;

namespace {

constexpr std::array<std::pair<RecordFile, std::string_view>, 5> kFiles = {
    {{RecordFile::Customers, "customers"},
     {RecordFile::Vehicles, "vehicles"},
     {RecordFile::Jobs, "jobs"},
     {RecordFile::FollowUps, "follow-ups"},
     {RecordFile::Odometers, "odometers"}}};

template <class Line> std::vector<std::string> namesOf() {
    std::vector<std::string> names;
    for (const auto& column : sheetColumns<Line>())
        names.emplace_back(column.name);
    return names;
}

/// Writes the header and each line that `each` hands over.
template <class Line, class Each>
core::Result<std::size_t> writeSheet(TableSink& out, const SheetContext& context, bool anonymous, Each each) {
    std::vector<const SheetColumn<Line>*> columns;
    std::vector<TableColumn> header;
    for (const auto& column : sheetColumns<Line>()) {
        if (anonymous && column.personal)
            continue;
        columns.push_back(&column);
        header.push_back({std::string(column.name), column.kind});
    }
    core::Result<void> written = out.header(header);
    std::size_t rows = 0;
    std::vector<std::string> cells(columns.size());
    const core::Result<void> done = each([&](const Line& line) {
        if (!written)
            return;
        for (std::size_t i = 0; i < columns.size(); ++i)
            cells[i] = columns[i]->write(line, context);
        written = out.row(cells);
        ++rows;
    });
    if (!done)
        return core::failureOf(done);
    if (written)
        written = out.finish();
    if (!written)
        return core::failureOf(written);
    return rows;
}

} // namespace

std::string_view codeOf(RecordFile file) {
    return kFiles[static_cast<std::size_t>(file)].second;
}

std::optional<RecordFile> recordFileFromCode(std::string_view code) {
    for (const auto& [file, name] : kFiles)
        if (name == code)
            return file;
    return std::nullopt;
}

std::vector<std::string> columnsOf(RecordFile file) {
    switch (file) {
    case RecordFile::Customers:
        return namesOf<core::Customer>();
    case RecordFile::Vehicles:
        return namesOf<VehicleLine>();
    case RecordFile::Jobs:
        return namesOf<JobLine>();
    case RecordFile::FollowUps:
        return namesOf<FollowUpLine>();
    case RecordFile::Odometers:
        return namesOf<OdometerLine>();
    }
    return {};
}

core::Result<std::size_t> exportRecords(Shop& shop, RecordFile file, std::ostream& out,
                                        const ExportOptions& options) {
    CsvSink sink(out);
    return exportRecords(shop, file, sink, options);
}

core::Result<std::size_t> exportRecords(Shop& shop, RecordFile file, TableSink& out,
                                        const ExportOptions& options) {
    if (file == RecordFile::Customers && options.anonymous)
        return core::fail(ErrorCode::Unsupported, "customers are nothing without their names");
    ExchangeStore& records = shop.exchange();
    auto context = records.context();
    if (!context)
        return core::failureOf(context);
    core::Result<std::size_t> written = 0;
    const bool anonymous = options.anonymous;
    switch (file) {
    case RecordFile::Customers:
        written = writeSheet<core::Customer>(out, *context, anonymous,
                                             [&](const auto& take) { return records.eachCustomer(take); });
        break;
    case RecordFile::Vehicles:
        written = writeSheet<VehicleLine>(out, *context, anonymous,
                                          [&](const auto& take) { return records.eachVehicle(take); });
        break;
    case RecordFile::Jobs:
        written = writeSheet<JobLine>(out, *context, anonymous, [&](const auto& take) {
            return records.eachJob([&](const JobLine& line) {
                // Without its reason, which is in words, a voided job would pass for a good one.
                if (!anonymous || !line.job.isVoid())
                    take(line);
            });
        });
        break;
    case RecordFile::FollowUps:
        written = writeSheet<FollowUpLine>(out, *context, anonymous,
                                           [&](const auto& take) { return records.eachFollowUp(take); });
        break;
    case RecordFile::Odometers:
        written = writeSheet<OdometerLine>(out, *context, anonymous,
                                           [&](const auto& take) { return records.eachOdometer(take); });
        break;
    }
    if (!written || shop.readOnly())
        return written;
    if (auto noted = records.noteExport(codeOf(file), *written, anonymous); !noted)
        return core::failureOf(noted);
    return written;
}

} // namespace milehold::storage
