// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <QSqlDatabase>

#include <filesystem>
#include <functional>

namespace milehold::storage {

enum class Access : std::uint8_t { Write, Read };

/// Opens an existing database file with every safety setting, each read back. The file must have passed
/// checkHeader(). For writing it takes the exclusive lock at once and runs a quick check before it touches
/// the journal. `beforeConversion` is called on a file with a write-ahead log before that is turned into a
/// rollback journal. Errors: InUse, Unreadable, ReadOnly, DiskProblem, Internal (a setting did not hold).
core::Result<QSqlDatabase>
openSqlite(const std::filesystem::path& file, Access access,
           const std::function<core::Result<void>(QSqlDatabase&)>& beforeConversion = {});

/// Closes a connection and forgets its name.
void closeSqlite(QSqlDatabase& database);

} // namespace milehold::storage
