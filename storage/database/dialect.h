// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstdint>
#include <string>
#include <string_view>

class QSqlDatabase;

namespace milehold::storage {

enum class Engine : std::uint8_t { Sqlite, Postgresql };

/// By the name of the connection's driver.
Engine engineOf(const QSqlDatabase& database);

} // namespace milehold::storage

/// What differs between the database engines. All other SQL is ordinary and stands in the stores.
namespace milehold::storage::dialect {

/// The beginning of a transaction. On SQLite it takes the write lock at once: one that reads first and writes
/// later could fail half-way.
std::string_view begin(Engine engine);
/// The same for a transaction that will write: run after begin() where it is not blank. On PostgreSQL it
/// locks the end of the change log's chain, so that what a save is checked against still holds when it is
/// stored.
std::string_view lockForWriting(Engine engine);
/// SQLite: rows only when a record names one that is not there. PostgreSQL never lets that happen.
inline constexpr std::string_view kForeignKeyCheck = "PRAGMA foreign_key_check";
/// "MHrb" in ASCII: written into the file's header, so that a shop is told from any other database.
inline constexpr std::int64_t kApplicationId = 0x4D487262;
/// Where everything of ours lies on a server, and the channel of its change notices.
inline constexpr std::string_view kServerSchema = "milehold";

/// Checks references and notes the version, at the end of a migration's transaction. Errors: Unreadable when
/// a record names one that is not there.
core::Result<void> finishMigration(QSqlDatabase& database, std::int64_t version, const std::string& what);
/// Outside a transaction only; read back, since inside one it would be ignored without a word. Nothing on
/// PostgreSQL, where a migration keeps every reference whole.
core::Result<void> setForeignKeys(QSqlDatabase& database, bool on);
/// The names of our tables in one text, parted by blanks, in order.
std::string_view tableNames(Engine engine);
/// The names of a table's columns, a row each; `table` is one of ours. Not the order of first saving.
std::string columnNames(Engine engine, const std::string& table);

} // namespace milehold::storage::dialect
