// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace milehold::storage {

/// What became of one table of a damaged shop.
struct SalvagedTable {
    std::string name;
    std::int64_t saved = 0; ///< rows that stand in the new file
    std::int64_t fromBackup =
        0; ///< of these, rows that saved ones name and only the newest good backup still had
    std::int64_t refused = 0; ///< rows that were read and break the schema or name what nobody has any more
    bool hasGap = false;      ///< a part of it could not be read
    std::optional<std::int64_t> inBackup; ///< rows in the newest good backup, to compare
};

/// What a salvage has saved and lost; never holds customer data.
struct SalvageReport {
    std::filesystem::path damaged; ///< where the damaged file with its journals and the report now lie
    std::vector<SalvagedTable> tables;
    std::int64_t breakARule = 0; ///< saved records in which core finds an error: kept, somebody should look
    std::int64_t logKept = 0;    ///< rows of the change log up to where its chain breaks
    std::int64_t logAside = 0;   ///< rows behind the break: readable, and written beside the damaged file

    std::int64_t jobs() const;
    std::string text() const; ///< one line a table, for people
};

/// Reads what is still readable of a damaged shop into a new one, and puts that in its place.
///
/// Only a copy of the damaged file is ever read. Every table is read row by row around its damage; each row
/// must pass the schema, be read back by this program, and name records that exist (missing ones are taken
/// from the newest good backup where it has them; what may be blank is made blank). The new file must pass
/// the full check before the damaged one moves with its journals to `damaged-<time>/`, with the report beside
/// it. The shop must be closed. Errors: InUse, NotFound (no file), Unreadable (nothing could be read; then
/// nothing was moved), DiskProblem.
core::Result<SalvageReport> salvageShop(const std::filesystem::path& shopFolder, core::Moment now);

} // namespace milehold::storage
