// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/server/open_server.h"

#include "storage/database/hash.h"
#include "storage/database/sqlite_connection.h"
#include "storage/database/statement.h"
#include "storage/files/durable.h"
#include "storage/files/file_check.h"
#include "storage/machine_clock.h"
#include "storage/server/postgresql_connection.h"

#include <QStandardPaths>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

std::function<core::Moment()> clockOr(std::function<core::Moment()> clock) {
    if (clock)
        return clock;
    return machineNow;
}

std::string versionText(std::int64_t version) {
    return std::to_string(version);
}

core::Result<void> checkSchema(QSqlDatabase& database, std::int64_t newest) {
    const auto schema = serverSchema(database);
    if (!schema)
        return core::failureOf(schema);
    if (*schema == 0)
        return core::fail(ErrorCode::NotAShop,
                          "the database holds no shop; `milehold-cli server-setup` makes one");
    if (*schema > newest)
        return core::fail(ErrorCode::TooNew, "the shop has schema " + versionText(*schema) +
                                                 ", and this program knows " + versionText(newest));
    if (*schema < newest)
        return core::fail(ErrorCode::Unsupported,
                          "the shop has schema " + versionText(*schema) + ", and this program needs " +
                              versionText(newest) +
                              ": whoever keeps the server backs it up and runs `milehold-cli server-setup`");
    const auto rows = askPlain(database, "SELECT count(*) FROM shop", "look for the shop");
    if (!rows)
        return core::failureOf(rows);
    if (*rows != intValue(1))
        return core::fail(
            ErrorCode::NotAShop,
            "the database is set up, but holds no shop yet; `milehold-cli server-setup --name` makes "
            "one, `milehold-cli move` brings one");
    return {};
}

core::Result<bool> mayWrite(QSqlDatabase& database) {
    const auto answer = askPlain(database,
                                 "SELECT has_table_privilege('job', 'INSERT') AND "
                                 "current_setting('transaction_read_only') = 'off'",
                                 "look at this user's rights");
    if (!answer)
        return core::failureOf(answer);
    return *answer == intValue(1);
}

/// Opens this station's own file for drafts, kept as safely as a shop; made at the first need. A second
/// window of the same shop takes the next file.
core::Result<QSqlDatabase> openStation(const fs::path& folder, std::shared_ptr<ShopLock>& held,
                                       core::Moment now) {
    const auto steps = builtInMigrations("sqlite");
    if (!steps)
        return core::failureOf(steps);
    std::error_code problem;
    fs::create_directories(folder, problem);
    fs::permissions(folder, fs::perms::owner_all, problem);
    constexpr int kMostWindows = 20;
    for (int i = 0; i < kMostWindows; ++i) {
        const ShopFolder own{folder / ("drafts-" + std::to_string(i) + kFolderSuffix)};
        for (const auto& one : {own.root, own.store()}) {
            if (auto made = makeFolder(one); !made)
                return core::failureOf(made);
        }
        auto lock = ShopLock::take(own);
        if (!lock && lock.error().code == ErrorCode::InUse)
            continue;
        if (!lock)
            return core::failureOf(lock);
        held = std::move(*lock);
        std::int64_t from = 0;
        if (fs::exists(own.database(), problem) && fs::file_size(own.database(), problem) > 0) {
            const auto header = checkHeader(own.database(), steps->back().version);
            if (!header)
                return core::failureOf(header);
            from = header->schema;
        } else if (!fs::exists(own.database(), problem)) {
            if (auto made = createFile(own.database(), ""); !made)
                return core::failureOf(made);
        }
        auto database = openSqlite(own.database(), Access::Write);
        if (!database)
            return database;
        if (auto migrated = migrate(*database, *steps, from, now); !migrated) {
            closeSqlite(*database);
            return core::failureOf(migrated);
        }
        return database;
    }
    return core::fail(ErrorCode::InUse, "this station has too many windows of this shop open");
}

fs::path stationFolder(const ServerAddress& address) {
    const auto data = QStandardPaths::writableLocation(QStandardPaths::GenericDataLocation).toStdString();
    return fs::path(data) / "milehold" / "stations" / sha256(address.text()).substr(0, 16);
}

} // namespace

core::Result<std::int64_t> serverSchema(QSqlDatabase& database) {
    const auto isThere = askPlain(database, "SELECT to_regclass('milehold.schema_migration') IS NOT NULL",
                                  "look for the shop");
    if (!isThere)
        return core::failureOf(isThere);
    if (*isThere != intValue(1))
        return 0;
    const auto version =
        askPlain(database, "SELECT coalesce(max(version), 0) FROM schema_migration", "look for the shop");
    if (!version)
        return core::failureOf(version);
    const auto* number = std::get_if<std::int64_t>(&*version);
    return number == nullptr ? 0 : *number;
}

core::Result<OpenedShop> openOnServer(const std::string& text, std::function<core::Moment()> clock) {
    auto address = parseServerAddress(text);
    if (!address)
        return core::failureOf(address);
    const auto steps = builtInMigrations("postgresql");
    if (!steps)
        return core::failureOf(steps);
    auto database = openPostgresql(*address, "records");
    if (!database)
        return core::failureOf(database);
    auto fits = checkSchema(*database, steps->back().version);
    const auto writes = fits ? mayWrite(*database) : core::Result<bool>(core::failureOf(fits));
    closeConnection(*database);
    if (!writes)
        return core::failureOf(writes);

    const auto now = clockOr(std::move(clock));
    OpenedShop shop;
    shop.server = *address;
    shop.folder.root = stationFolder(*address);
    shop.session = std::make_unique<Session>([where = *address] { return openPostgresql(where, "records"); },
                                             now, !*writes);
    shop.session->setServer(*address);
    if (auto connected = shop.session->connect(); !connected)
        return core::failureOf(connected);
    shop.drafts = std::make_unique<Session>(
        [folder = shop.folder.root, now, lock = std::make_shared<std::shared_ptr<ShopLock>>()] {
            return openStation(folder, *lock, now());
        },
        now, false);
    return shop;
}

} // namespace milehold::storage
