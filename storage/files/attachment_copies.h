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
/// Brings the files of a backup to the folder `shelf`, where a copy of it is made for another disk.
core::Result<void> carryAttachments(const std::filesystem::path& backup, const std::filesystem::path& shelf);
/// Removes the files that no backup in this folder of backups lists any more; none while one of them cannot
/// be read, for nobody knows then what it names. What fails is tried again the next time.
void sweepAttachments(const std::filesystem::path& backups);

/// The contents that a backup names, whether or not they were there to be copied.
/// Errors: Unreadable when its list cannot be read.
core::Result<std::set<std::string>> contentsOfBackup(const std::filesystem::path& backup);

} // namespace milehold::storage
