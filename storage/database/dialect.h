// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstdint>
#include <string>
#include <string_view>

class QSqlDatabase;

/// What differs between database engines, for SQLite. All other SQL is ordinary and stands in the stores.
namespace milehold::storage::dialect {

/// Takes the write lock at once: a transaction that reads first and writes later could fail half-way.
inline constexpr std::string_view kBegin = "BEGIN IMMEDIATE";
/// Rows only when a record names one that is not there.
inline constexpr std::string_view kForeignKeyCheck = "PRAGMA foreign_key_check";
/// "MHrb" in ASCII: written into the file's header, so that a shop is told from any other database.
inline constexpr std::int64_t kApplicationId = 0x4D487262;

std::string setSchemaVersion(std::int64_t version);
/// Outside a transaction only; read back, since inside one it would be ignored without a word.
core::Result<void> setForeignKeys(QSqlDatabase& database, bool on);

} // namespace milehold::storage::dialect
