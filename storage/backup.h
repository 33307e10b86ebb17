// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"

#include <cstdint>
#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace milehold::storage {

enum class BackupReason : std::uint8_t {
    OnDemand,
    Close,
    Daily,
    BeforeMigration,
    BeforeImport,
    BeforeRestore,
    BeforeErasure
};

/// A verified copy of a shop as its manifest describes it.
struct BackupInfo {
    std::filesystem::path folder; ///< `backups/<time>-<reason>/`, holding `shop.db` and `manifest.json`
    core::Moment at;
    BackupReason reason = BackupReason::OnDemand;
    std::int64_t schema = 0;
    std::uint64_t bytes = 0;
    std::string sha256;                       ///< of shop.db
    std::map<std::string, std::int64_t> rows; ///< per table
    std::int64_t chainSequence = 0;
    std::string chainHash;
    std::string warning; ///< not blank: much smaller than the one before, look before you trust it
    friend bool operator==(const BackupInfo&, const BackupInfo&) = default;

    std::int64_t jobs() const;
};

/// The backups of a shop folder, newest first; copies without a readable manifest are passed over. The shop
/// may be open, closed or damaged.
core::Result<std::vector<BackupInfo>> listBackups(const std::filesystem::path& shopFolder);

/// Compares the copy with its manifest and runs the full checks on it, alone.
/// Errors: Unreadable when anything differs.
core::Result<void> verifyBackup(const BackupInfo& backup);

/// Puts a backup in the place of a closed shop's records. What is replaced is kept: backed up when it can be
/// read, and moved with its journals to `replaced-<time>/` in any case. Output: the folder with what was
/// replaced, blank when no shop was there. Errors: InUse, Unreadable (it does not verify; nothing touched),
/// DiskProblem, ReadOnly.
core::Result<std::filesystem::path> restoreBackup(const std::filesystem::path& shopFolder,
                                                  const BackupInfo& backup);

} // namespace milehold::storage
