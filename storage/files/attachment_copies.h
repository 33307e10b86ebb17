// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/files/shop_folder.h"

#include <filesystem>
#include <set>
#include <string>

namespace milehold::storage {

/// Where the files lie that a shop names: beside its database, or, for a browsed backup, in the folder that
/// all backups share. Blank for a shop without a folder.
std::filesystem::path attachmentsFolder(const std::filesystem::path& shopOrBackup);

/// Copies what the records in a copy of the database name into `backups/attachments/`, each content once, and
/// lists it in `attachments.txt` beside that copy. A file that is missing or damaged is listed as missing: it
/// must not stand in the way of a copy of all records. Errors: DiskProblem.
core::Result<void> copyAttachments(const std::filesystem::path& database, const ShopFolder& folder);
/// Each content that the records of a backup name is there as listed, and sound.
/// Errors: Unreadable when one is not, or the list is not of these records.
core::Result<void> checkAttachments(const std::filesystem::path& backup);
/// Brings the files of a backup into the shop, before the rows that name them.
core::Result<void> bringAttachments(const std::filesystem::path& backup, const ShopFolder& folder);
/// Removes the files that no backup in the folder lists any more. What fails is tried again the next time.
void sweepAttachments(const ShopFolder& folder);

/// The contents that a backup names, whether or not they were there to be copied.
/// Errors: Unreadable when its list cannot be read.
core::Result<std::set<std::string>> contentsOfBackup(const std::filesystem::path& backup);

/// The contents that a backup lists as there; empty for one that was made before there were any.
std::set<std::string> attachmentsOfBackup(const std::filesystem::path& backup);

} // namespace milehold::storage
