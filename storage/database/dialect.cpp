// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/dialect.h"

#include "storage/database/sql_name.h"
#include "storage/database/statement.h"

#include <QSqlDatabase>

namespace milehold::storage {

Engine engineOf(const QSqlDatabase& database) {
    return database.driverName() == QLatin1String("QPSQL") ? Engine::Postgresql : Engine::Sqlite;
}

} // namespace milehold::storage

namespace milehold::storage::dialect {

std::string_view begin(Engine engine) {
    return engine == Engine::Sqlite ? "BEGIN IMMEDIATE" : "BEGIN ISOLATION LEVEL READ COMMITTED";
}

std::string_view lockForWriting(Engine engine) {
    return engine == Engine::Sqlite ? "" : "SELECT only_row FROM audit_head FOR UPDATE";
}

core::Result<void> finishMigration(QSqlDatabase& database, std::int64_t version, const std::string& what) {
    if (engineOf(database) == Engine::Postgresql)
        return {}; // references are always checked, and the version is that of the newest schema_migration
    const auto dangling = askPlain(database, kForeignKeyCheck, what);
    if (!dangling)
        return core::failureOf(dangling);
    if (!isNull(*dangling))
        return core::fail(core::ErrorCode::Unreadable, what + ": a record names one that is not there");
    return runPlain(database, "PRAGMA user_version = " + sqlNumber(version), what);
}

core::Result<void> setForeignKeys(QSqlDatabase& database, bool on) {
    if (engineOf(database) == Engine::Postgresql)
        return {};
    const auto what = "set foreign keys";
    if (auto set = runPlain(database, on ? "PRAGMA foreign_keys = ON" : "PRAGMA foreign_keys = OFF", what);
        !set) {
        return set;
    }
    const auto now = askPlain(database, "PRAGMA foreign_keys", what);
    if (!now)
        return core::failureOf(now);
    if (*now != intValue(on ? 1 : 0))
        return core::fail(core::ErrorCode::Internal, "foreign keys did not change");
    return {};
}

std::string_view tableNames(Engine engine) {
    return engine == Engine::Sqlite
               ? "SELECT group_concat(name, ' ') FROM (SELECT name FROM sqlite_schema WHERE type = 'table' "
                 "AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY name)"
               : "SELECT string_agg(CAST(tablename AS TEXT), ' ' ORDER BY tablename) FROM pg_tables "
                 "WHERE schemaname = 'milehold'";
}

std::string columnNames(Engine engine, const std::string& table) {
    return engine == Engine::Sqlite ? "SELECT name FROM pragma_table_info('" + sqlName(table) + "')"
                                    : "SELECT CAST(column_name AS TEXT) FROM information_schema.columns "
                                      "WHERE table_schema = 'milehold' AND table_name = '" +
                                          sqlName(table) + "' AND column_name <> 'rowid'";
}

} // namespace milehold::storage::dialect
