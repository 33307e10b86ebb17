// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"

#include <filesystem>
#include <string>
#include <string_view>

namespace milehold::storage {

/// File operations that are on the disk when they return. Folders are made 0700 and files 0600.
/// Errors: DiskProblem, ReadOnly, NotFound, by the system's own code; the detail names the act, never a path.

core::Result<void> makeFolder(const std::filesystem::path& folder);
/// Makes the entries of a folder durable: names that were added, renamed or removed.
core::Result<void> syncFolder(const std::filesystem::path& folder);
core::Result<void> syncFile(const std::filesystem::path& file);
/// Fails when the file exists.
core::Result<void> createFile(const std::filesystem::path& file, std::string_view bytes);
core::Result<void> removeFile(const std::filesystem::path& file);
core::Result<void> renameFile(const std::filesystem::path& from, const std::filesystem::path& to);
/// Copies a closed file to a name that must not exist.
core::Result<void> copyFile(const std::filesystem::path& from, const std::filesystem::path& to);
core::Result<std::string> readFile(const std::filesystem::path& file, std::size_t most);

/// `2031-04-09T104207Z`: a moment as part of a file name.
std::string stamp(core::Moment at);

/// What `errno` means to us.
core::Error systemError(int number, std::string_view what);

} // namespace milehold::storage
