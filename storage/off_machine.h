// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"
#include "storage/backup.h"

#include <filesystem>

namespace milehold::storage {

/// A verified backup on another disk.
struct OffMachineCopy {
    std::filesystem::path folder;
    bool sameDisk = false; ///< the place lies on the very disk of the shop, and would die with it
};

/// Copies a backup to `place`/SHOP/BACKUP: verified before, written, synced, read again from the disk and
/// compared by its hash, and only then given its name; older copies there are kept by the same rule as the
/// shop's own. A copy that is there already is verified and left. Notes the moment in the shop's care.
/// Errors: Unreadable (the backup does not verify), NotFound (the place is not there), InvalidInput (the
/// place lies inside the shop's folder), DiskProblem, ReadOnly.
core::Result<OffMachineCopy> copyOffMachine(const std::filesystem::path& shopFolder, const BackupInfo& backup,
                                            const std::filesystem::path& place, core::Moment now);

/// Restores a backup into a shop folder of its own in the system's place for temporary files, opens it,
/// checks it in full, removes it again, and notes the moment. Output: what the checks found. Errors: as
/// restoreBackup() and Shop::open(); Unreadable when the full check finds anything.
core::Result<void> testRestore(const std::filesystem::path& shopFolder, const BackupInfo& backup,
                               core::Moment now);

} // namespace milehold::storage
