// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/database/session.h"

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace milehold::storage {

/// A table of ours with its columns, in the order of their names: the same on both engines.
struct TableShape {
    std::string name;
    std::vector<std::string> columns;
    friend bool operator==(const TableShape&, const TableShape&) = default;
};

/// The tables that hold a shop's records, those first that others name. Drafts, the engine's own rows and the
/// list of migrations are not among them.
core::Result<std::vector<TableShape>> recordTables(Session& session);

/// Inserts every row of a table into the same table elsewhere, inside a unit of work there, in the order in
/// which they were first saved. `which` is a condition on the rows, or blank. Columns that name rows of the
/// same table come in a second pass, when all are there.
core::Result<std::int64_t> copyTable(Session& from, Session& to, const TableShape& table,
                                     std::string_view which);

/// Hands out every row of a table, its values in the order of the columns. Output: the number of rows.
core::Result<std::int64_t>
eachRowOf(Session& session, const TableShape& table,
          const std::function<core::Result<void>(const std::vector<Value>&)>& take);

struct TableDigest {
    std::int64_t rows = 0;
    std::string sha256; ///< whatever the order of the rows
};
core::Result<TableDigest> digestOf(Session& session, const TableShape& table);

} // namespace milehold::storage
