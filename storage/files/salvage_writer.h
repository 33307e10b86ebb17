// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/files/lenient_reader.h"
#include "storage/salvage.h"

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

struct sqlite3;

namespace milehold::storage {

/// Fills a new, empty shop file with the rows of a damaged one. Triggers and references are off meanwhile and
/// put right at the end, so that the order of the rows does not matter.
class SalvageWriter {
public:
    /// `fresh`: a closed file with this program's schema and no records. `backup`: a good backup's file.
    static core::Result<SalvageWriter> open(const std::filesystem::path& fresh,
                                            const std::optional<std::filesystem::path>& backup);

    /// Every table but the log's. Errors: DiskProblem.
    core::Result<void> takeRecords(LenientReader& from);
    /// The log's rows from the first on, as long as its chain fits; the others go to `aside` as CSV.
    core::Result<void> takeLog(LenientReader& from, const std::filesystem::path& aside);
    /// Commits so far, so that another connection may read; the next call goes on.
    core::Result<void> pause();
    /// Removes rows of `table` that this program cannot read back.
    core::Result<void> refuse(const std::string& table, const std::vector<std::string>& ids);
    /// Brings what rows name and nobody has from the backup, makes blank what may be, and removes the rest,
    /// until every reference is whole; sets the counter of job numbers right.
    core::Result<void> mendReferences();
    /// Puts the triggers back and closes the file.
    core::Result<void> finish();

    const std::map<std::string, SalvagedTable>& tables() const { return tables_; }
    std::int64_t logKept() const { return logKept_; }
    std::int64_t logAside() const { return logAside_; }

private:
    struct Close {
        void operator()(sqlite3* handle) const;
    };
    using Handle = std::unique_ptr<sqlite3, Close>;
    explicit SalvageWriter(sqlite3* handle) : handle_(handle) {}
    core::Result<void> run(const std::string& sql) const;
    core::Result<std::vector<std::string>> columnsOf(const std::string& table) const;
    /// The row with this id, from the backup; false when it is not there or breaks the schema.
    bool fetchFromBackup(const std::string& table, const std::string& id);

    Handle handle_;
    Handle backup_;
    std::map<std::string, SalvagedTable> tables_;
    std::vector<std::string> triggers_;
    std::int64_t logKept_ = 0;
    std::int64_t logAside_ = 0;
};

} // namespace milehold::storage
