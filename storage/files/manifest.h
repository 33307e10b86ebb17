// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/backup.h"

#include <string>
#include <string_view>

namespace milehold::storage {

/// `manifest.json` of a backup: all of BackupInfo but its folder.
std::string toJson(const BackupInfo& backup);
/// Errors: Unreadable for anything that toJson() does not write.
core::Result<BackupInfo> backupFromJson(std::string_view text);

/// `on-demand`, `close` ...: in manifests and folder names.
std::string_view codeOf(BackupReason reason);

} // namespace milehold::storage
