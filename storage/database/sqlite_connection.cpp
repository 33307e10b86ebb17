// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/sqlite_connection.h"

#include "storage/database/dialect.h"
#include "storage/database/sql_error.h"
#include "storage/database/sqlite_handle.h"
#include "storage/database/statement.h"

#include <QSqlError>
#include <QUrl>
#include <QUuid>

#include <sqlite3.h>

#include <array>
#include <utility>

namespace milehold::storage {

using core::ErrorCode;

namespace {

constexpr std::array kLimits = {
    std::pair{SQLITE_LIMIT_LENGTH, 20'000'000},   std::pair{SQLITE_LIMIT_SQL_LENGTH, 100'000},
    std::pair{SQLITE_LIMIT_COLUMN, 128},          std::pair{SQLITE_LIMIT_EXPR_DEPTH, 100},
    std::pair{SQLITE_LIMIT_COMPOUND_SELECT, 8},   std::pair{SQLITE_LIMIT_FUNCTION_ARG, 16},
    std::pair{SQLITE_LIMIT_ATTACHED, 1},          std::pair{SQLITE_LIMIT_LIKE_PATTERN_LENGTH, 200},
    std::pair{SQLITE_LIMIT_VARIABLE_NUMBER, 500}, std::pair{SQLITE_LIMIT_TRIGGER_DEPTH, 10}};

constexpr std::array kSwitches = {
    std::pair{SQLITE_DBCONFIG_DEFENSIVE, 1}, std::pair{SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0},
    std::pair{SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0}, std::pair{SQLITE_DBCONFIG_DQS_DML, 0},
    std::pair{SQLITE_DBCONFIG_DQS_DDL, 0}};

/// Settings that need SQLite's own interface, where its structures are ours to touch.
core::Result<void> setByHandle(sqlite3* handle) {
    sqlite3_extended_result_codes(handle, 1);
    for (const auto& [what, wanted] : kSwitches) {
        int now = -1;
        if (sqlite3_db_config(handle, what, wanted, &now) != SQLITE_OK || now != wanted) {
            return core::fail(ErrorCode::Internal, "SQLite switch " + std::to_string(what) + " did not hold");
        }
    }
    for (const auto& [what, wanted] : kLimits) {
        sqlite3_limit(handle, what, wanted);
        if (sqlite3_limit(handle, what, -1) != wanted) {
            return core::fail(ErrorCode::Internal, "SQLite limit " + std::to_string(what) + " did not hold");
        }
    }
    return {};
}

struct Setting {
    const char* set;
    const char* ask;
    Value wanted;
};

core::Result<void> setAll(QSqlDatabase& database, const std::vector<Setting>& settings) {
    for (const auto& setting : settings) {
        if (auto done = runPlain(database, setting.set, setting.set); !done)
            return done;
        const auto now = askPlain(database, setting.ask, setting.ask);
        if (!now)
            return core::failureOf(now);
        if (*now != setting.wanted) {
            return core::fail(ErrorCode::Internal, std::string(setting.set) + " did not hold");
        }
    }
    return {};
}

core::Result<void> prepareForReading(QSqlDatabase& database) {
    return setAll(database, {{"PRAGMA query_only = ON", "PRAGMA query_only", intValue(1)},
                             {"PRAGMA trusted_schema = OFF", "PRAGMA trusted_schema", intValue(0)},
                             {"PRAGMA cell_size_check = ON", "PRAGMA cell_size_check", intValue(1)},
                             {"PRAGMA mmap_size = 0", "PRAGMA mmap_size", intValue(0)},
                             {"PRAGMA temp_store = MEMORY", "PRAGMA temp_store", intValue(2)}});
}

using BeforeConversion = std::function<core::Result<void>(QSqlDatabase&)>;

core::Result<void> prepareForWriting(QSqlDatabase& database, const BeforeConversion& beforeConversion) {
    if (auto set = setAll(database,
                          {{"PRAGMA locking_mode = EXCLUSIVE", "PRAGMA locking_mode", textValue("exclusive")},
                           {"PRAGMA trusted_schema = OFF", "PRAGMA trusted_schema", intValue(0)},
                           {"PRAGMA cell_size_check = ON", "PRAGMA cell_size_check", intValue(1)}});
        !set) {
        return set;
    }
    // The lock is taken only by a transaction; taken now, so that nobody comes between the check and the
    // first save.
    if (auto begun = runPlain(database, "BEGIN EXCLUSIVE", "lock the shop"); !begun)
        return begun;
    if (auto done = runPlain(database, "COMMIT", "lock the shop"); !done)
        return done;
    const auto sound = askPlain(database, "PRAGMA quick_check(1)", "check the shop");
    if (!sound)
        return core::failureOf(sound);
    if (*sound != textValue("ok"))
        return core::fail(ErrorCode::Unreadable, "the quick check found damage");
    const auto mode = askPlain(database, "PRAGMA journal_mode", "read the journal mode");
    if (!mode)
        return core::failureOf(mode);
    if (*mode == textValue("wal") && beforeConversion) {
        if (auto done = beforeConversion(database); !done)
            return done;
    }
    // A rollback journal: SQLite before 3.51.3 may lose an acknowledged commit in WAL mode
    // (sqlite.org/wal.html).
    return setAll(database, {{"PRAGMA journal_mode = TRUNCATE", "PRAGMA journal_mode", textValue("truncate")},
                             {"PRAGMA synchronous = EXTRA", "PRAGMA synchronous", intValue(3)},
                             {"PRAGMA foreign_keys = ON", "PRAGMA foreign_keys", intValue(1)},
                             {"PRAGMA recursive_triggers = ON", "PRAGMA recursive_triggers", intValue(1)},
                             {"PRAGMA secure_delete = ON", "PRAGMA secure_delete", intValue(1)},
                             {"PRAGMA mmap_size = 0", "PRAGMA mmap_size", intValue(0)},
                             {"PRAGMA cache_size = -32768", "PRAGMA cache_size", intValue(-32768)},
                             {"PRAGMA temp_store = MEMORY", "PRAGMA temp_store", intValue(2)},
                             {"PRAGMA fullfsync = ON", "PRAGMA fullfsync", intValue(1)}});
}

core::Result<void> prepare(QSqlDatabase& database, Access access, const BeforeConversion& beforeConversion) {
    if (sqlite3* handle = sqliteHandle(database)) {
        if (auto set = setByHandle(handle); !set)
            return set;
    }
    return access == Access::Read ? prepareForReading(database)
                                  : prepareForWriting(database, beforeConversion);
}

} // namespace

core::Result<QSqlDatabase> openSqlite(const std::filesystem::path& file, Access access,
                                      const BeforeConversion& beforeConversion) {
    const QString name = QUuid::createUuid().toString(QUuid::WithoutBraces);
    auto database = QSqlDatabase::addDatabase(QStringLiteral("QSQLITE"), name);
    if (!database.isValid()) {
        closeSqlite(database);
        return core::fail(ErrorCode::Internal, "Qt's SQLite driver is not installed");
    }
    database.setConnectOptions(QStringLiteral("QSQLITE_OPEN_URI;QSQLITE_BUSY_TIMEOUT=5000"));
    const QByteArray path = QUrl::toPercentEncoding(QString::fromStdString(file.string()), "/");
    // mode=rw never creates: a missing file is an error, not an empty shop.
    const char* mode = access == Access::Read ? "?mode=ro&immutable=1" : "?mode=rw";
    database.setDatabaseName(QStringLiteral("file:") + QString::fromLatin1(path) + QLatin1String(mode));
    core::Result<void> ready;
    if (!database.open()) {
        ready = tl::unexpected(sqlError(database.lastError(), "open the shop's file"));
    } else {
        ready = prepare(database, access, beforeConversion);
    }
    if (!ready) {
        closeSqlite(database);
        return core::failureOf(ready);
    }
    return database;
}

void closeSqlite(QSqlDatabase& database) {
    const QString name = database.connectionName();
    database.close();
    database = QSqlDatabase();
    QSqlDatabase::removeDatabase(name);
}

} // namespace milehold::storage
