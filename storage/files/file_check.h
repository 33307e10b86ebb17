// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstdint>
#include <filesystem>
#include <string_view>

namespace milehold::storage {

/// What the first hundred bytes of a database file say (sqlite.org/fileformat2.html, "The Database Header").
struct FileHeader {
    std::uint32_t pageSize = 0;
    std::uint32_t pages = 0; ///< 0: the header does not vouch for it
    std::int64_t applicationId = 0;
    std::int64_t schema = 0; ///< user_version
    bool wal = false;        ///< written with a write-ahead log
    std::uint64_t bytes = 0; ///< of the file
};

/// Looks at a shop's file before the database engine may touch it: an engine takes a missing, an empty or a
/// one-byte file for an empty database. Reads only, and lets the file go again. Errors: NotFound; NotAShop
/// (something else; not a plain file); Unreadable (empty, cut short, damaged header); TooNew above
/// `newestSchema`; Unsupported (several names for one file); ReadOnly (no right to read).
core::Result<FileHeader> checkHeader(const std::filesystem::path& file, std::int64_t newestSchema);

/// True for file systems on which locks or syncs cannot be trusted, by the name that the system gives them.
bool isRefusedFileSystem(std::string_view type);
/// Errors: Unsupported, naming the way out; NotFound.
core::Result<void> checkFileSystem(const std::filesystem::path& folder);

} // namespace milehold::storage
