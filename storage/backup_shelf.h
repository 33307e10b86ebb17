// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "storage/backup.h"

#include <filesystem>
#include <optional>
#include <vector>

namespace milehold::storage {

/// As listBackups(), for any folder that holds backups, such as one on another disk. Errors: DiskProblem,
/// ReadOnly.
core::Result<std::vector<BackupInfo>> listBackupsIn(const std::filesystem::path& folder);

/// The folders there that look like backups and have no manifest that can be read: nobody can tell what they
/// hold. Errors: DiskProblem, ReadOnly.
core::Result<std::vector<std::filesystem::path>> unreadableBackupsIn(const std::filesystem::path& folder);

/// The newest backup that verifies; empty when there is none. Cost: reads backups until one does.
std::optional<BackupInfo> newestGoodBackup(const std::filesystem::path& shopFolder);

} // namespace milehold::storage
