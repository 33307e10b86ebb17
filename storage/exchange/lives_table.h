// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/lives.h"
#include "storage/exchange/csv_rows.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace milehold::storage {

/// A column kept as text: row i holds levels[level[i]].
struct FactorColumn {
    std::string name;
    std::vector<std::uint32_t> level; ///< n entries
    std::vector<std::string> levels;  ///< distinct, in order of first appearance, as written
    /// The value of every level as a number; nothing when one of them is not a finite number.
    std::optional<std::vector<double>> numbers() const;
};

struct LivesTableOptions {
    std::vector<std::string> factors; ///< names of columns to keep as text, any of the header
    std::vector<std::string> ifThere; ///< the same, after them, where the header has them
    bool needVehicle = false;         ///< every row must name its vehicle
    bool needStratum = false;         ///< the table must have strata
    bool histories = false;           ///< rows are moments of a vehicle's history: see `repeats`
    bool keepIntervals = false; ///< a comeback with `last_quiet` lies in (last_quiet, miles]; else at miles
};

struct LivesTable {
    core::Lives lives;                 ///< groups already in the order in which they come out
    std::vector<FactorColumn> factors; ///< as asked for, in that order
    std::vector<std::string> columns;  ///< the header
    std::vector<std::string>
        warnings; ///< sentences for the reader of the result; the table is good all the same
};

/// Reads a lives table: RFC 4180, UTF-8, a header row, columns in any order. `miles` and `end` are required;
/// `until`, `last_quiet`, `entry`, `group`, `stratum`, `vehicle`, `weight` are known; every other column is a
/// factor. `last_quiet` is what `export lives` writes beside a comeback that nobody heard begin: it was seen
/// at `miles`, which is where a step curve takes it, and known quiet there; estimators of intervals ask for
/// both.
///
/// Mileages are taken as written, a double each. Columns of the result stay empty where the table has none.
/// Errors: as openBytes and CsvRows; InvalidInput as `NAME:LINE: column X: what is wrong and what was
/// expected`. Cost:   O(n) and one pass; memory of the columns.
core::Result<LivesTable> readLivesTable(const std::string& path, const LivesTableOptions& options = {});

/// The same from bytes; `name` begins the sentences.
core::Result<LivesTable> readLivesTable(ByteSource source, const std::string& name,
                                        const LivesTableOptions& options = {});

} // namespace milehold::storage
