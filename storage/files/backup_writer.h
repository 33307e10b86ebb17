// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"
#include "storage/backup.h"
#include "storage/files/shop_folder.h"

#include <span>
#include <vector>

class QSqlDatabase;

namespace milehold::storage {

/// Begins the name of the folder, in the shop's own, with the copy that a restore reads what it replaces
/// from.
inline constexpr auto kReadingFolder = "reading-";

/// Copies the open database into a new folder of `backups/`, verifies the copy alone against the source, and
/// only then gives it its name. Old backups that need not be kept are removed afterwards. Errors:
/// DiskProblem, ReadOnly, Unreadable (the copy did not verify and is gone again).
core::Result<BackupInfo> writeBackup(QSqlDatabase& source, const ShopFolder& folder, BackupReason reason,
                                     core::Moment now);

inline constexpr int kMonthsKept = 24; ///< the longest that a backup is kept, the last three excepted

/// Which backups have had their time: kept are all of 48 hours, the newest of each of 14 days, 8 weeks and 24
/// months, those from before a migration for 180 days, none of them longer than kMonthsKept, and never fewer
/// than three. Nothing goes while the newest carries a warning. `backups` newest first.
std::vector<BackupInfo> outdated(std::span<const BackupInfo> backups, core::Moment now);

} // namespace milehold::storage
