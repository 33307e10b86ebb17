// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/exchange/csv_rows.h"
#include "storage/exchange/table_sink.h"
#include "storage/shop.h"

#include <cstddef>
#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

/// The kinds of records that files are exchanged of.
enum class RecordFile : std::uint8_t { Customers, Vehicles, Jobs, FollowUps, Odometers };

/// `customers`, `vehicles`, `jobs`, `follow-ups`, `odometers`.
std::string_view codeOf(RecordFile file);
std::optional<RecordFile> recordFileFromCode(std::string_view code);
/// The names of all columns, in the order in which they are written.
std::vector<std::string> columnsOf(RecordFile file);

struct ExportOptions {
    /// Leaves out every column that tells who somebody is (names, phones, VIN, plate, words), and voided
    /// jobs.
    bool anonymous = false;
};

/// Writes every record of a kind as a table; text that a spreadsheet could take for a formula is guarded. The
/// CSV that is written reads back as the same records. The change log keeps that it was done. Output: the
/// number of records. Errors: those of the stores and of the sink; Unsupported for customers without their
/// names.
core::Result<std::size_t> exportRecords(Shop& shop, RecordFile file, TableSink& out,
                                        const ExportOptions& options);
core::Result<std::size_t> exportRecords(Shop& shop, RecordFile file, std::ostream& out,
                                        const ExportOptions& options);

struct ImportOptions {
    bool dryRun = false; ///< everything is tried and nothing is kept
    bool update = false; ///< a row with the key of a record that differs replaces it; else it is a bad row
    /// Keeps what can be taken although there are bad rows; they are left out and listed.
    bool goodRowsOnly = false;
    /// What each cell of the header stands for, by the names of columnsOf(), blank: left out. Empty: the
    /// header bears those names itself.
    std::optional<std::vector<std::string>> columns = {};
};

/// A row that was not taken.
struct BadRow {
    std::size_t line = 0;
    std::string column; ///< blank: the row as a whole
    std::string what;   ///< what is wrong and what was expected; holds no value of the row
    friend bool operator==(const BadRow&, const BadRow&) = default;
};

struct ImportReport {
    std::size_t rows = 0;
    std::size_t added = 0;
    std::size_t changed = 0;
    std::size_t there = 0; ///< rows whose record was in the shop already
    std::vector<BadRow> bad;
    bool kept = false; ///< false: a dry run, or a bad row kept everything out; the shop is as it was
};

/// What a header of somebody else's table stands for, as far as its words tell: for each cell the column of
/// ours, each at most once, or blank.
std::vector<std::string> guessColumns(RecordFile file, const std::vector<std::string>& header);

/// The header of a table and its first rows, to look at before it is taken.
struct TableStart {
    std::vector<std::string> header;
    std::vector<std::vector<std::string>> rows;
};
/// Errors: InvalidInput as `NAME:LINE: ...` for what is no table; those of the source.
core::Result<TableStart> readStart(ByteSource source, const std::string& name, std::size_t mostRows);

/// Reads a file of records into the shop, all of it or nothing.
///
/// Columns may come in any order and be missing where they are not required; an unknown column is an error. A
/// row is the same record as one in the shop by its `id`, else by what names it: VIN or plate of a vehicle,
/// name and a phone of a customer, number of a job (or vehicle, day and repair order), job, day and outcome
/// of a follow-up, vehicle, day and odometer of a reading. So the same file twice adds nothing twice. Errors:
/// InvalidInput as `NAME:LINE: ...` for a file that is no table of this kind; those of the stores.
core::Result<ImportReport> importRecords(Shop& shop, RecordFile file, ByteSource source,
                                         const std::string& name, const ImportOptions& options);

} // namespace milehold::storage
