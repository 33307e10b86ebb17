// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/server/setup_server.h"

#include "core/shop/validation.h"
#include "storage/database/dialect.h"
#include "storage/database/statement.h"
#include "storage/machine_clock.h"
#include "storage/records/repository.h"
#include "storage/server/open_server.h"
#include "storage/server/postgresql_connection.h"

#include <QFile>

namespace milehold::storage {

using core::ErrorCode;

namespace {

core::Result<void> runAll(QSqlDatabase& database, const QString& name) {
    QFile file(QStringLiteral(":/server/") + name);
    if (!file.open(QIODevice::ReadOnly))
        return core::fail(ErrorCode::Internal, "a built-in script for the server cannot be read");
    const auto script = parseMigration("0001_" + name.toStdString(), file.readAll().toStdString());
    if (!script)
        return core::failureOf(script);
    auto done = runPlain(database, dialect::begin(Engine::Postgresql), "set the server up");
    for (std::size_t i = 0; done && i < script->statements.size(); ++i)
        done = runPlain(database, script->statements[i],
                        "set the server up, " + name.toStdString() + ", step " + std::to_string(i + 1));
    if (done)
        return runPlain(database, "COMMIT", "set the server up");
    static_cast<void>(runPlain(database, "ROLLBACK", "set the server up"));
    return done;
}

core::Result<ServerSetup> setUp(QSqlDatabase& database, const std::vector<Migration>& steps) {
    ServerSetup setup;
    // One at a time; a migration may take longer than any save.
    for (const char* sql : {"SELECT pg_advisory_lock(1296593506)", "SET statement_timeout = 0"}) {
        if (auto ran = runPlain(database, sql, "set the server up"); !ran)
            return core::failureOf(ran);
    }
    if (auto made = runAll(database, QStringLiteral("roles.sql")); !made)
        return core::failureOf(made);
    if (auto became = runPlain(database, "SET ROLE shop_schema", "set the server up"); !became)
        return core::failureOf(became);
    const auto from = serverSchema(database);
    if (!from)
        return core::failureOf(from);
    setup.from = *from;
    setup.to = steps.back().version;
    if (setup.from > setup.to)
        return core::fail(ErrorCode::TooNew, "the shop has schema " + std::to_string(setup.from) +
                                                 ", and this program knows " + std::to_string(setup.to));
    if (auto migrated = migrate(database, steps, setup.from, machineNow()); !migrated)
        return core::failureOf(migrated);
    if (auto given = runAll(database, QStringLiteral("rights.sql")); !given)
        return core::failureOf(given);
    return setup;
}

} // namespace

core::Result<ServerSetup> setUpServer(const std::string& text,
                                      const std::optional<core::ShopSettings>& settings) {
    if (settings) {
        if (auto allowed = refuseErrors("shop", core::validate(*settings)); !allowed)
            return core::failureOf(allowed);
    }
    const auto address = parseServerAddress(text);
    if (!address)
        return core::failureOf(address);
    const auto steps = builtInMigrations("postgresql");
    if (!steps)
        return core::failureOf(steps);
    auto database = openPostgresql(*address, "setup");
    if (!database)
        return core::failureOf(database);
    auto done = setUp(*database, *steps);
    closeConnection(*database);
    if (!done || !settings)
        return done;
    if (auto made = makeShopOnServer(text, *settings); !made)
        return core::failureOf(made);
    done->madeShop = true;
    return done;
}

core::Result<void> makeShopOnServer(const std::string& text, const core::ShopSettings& settings) {
    const auto address = parseServerAddress(text);
    if (!address)
        return core::failureOf(address);
    Session session(
        [where = *address]() -> core::Result<QSqlDatabase> {
            auto database = openPostgresql(where, "setup");
            if (!database)
                return database;
            if (auto became = runPlain(*database, "SET ROLE shop_schema", "make the shop"); !became) {
                closeConnection(*database);
                return core::failureOf(became);
            }
            return database;
        },
        machineNow, false);
    if (auto connected = session.connect(); !connected)
        return connected;
    const auto rows = askPlain(session.database(), "SELECT count(*) FROM shop", "look for the shop");
    if (!rows)
        return core::failureOf(rows);
    if (*rows != intValue(0))
        return core::fail(ErrorCode::InvalidInput,
                          "the database holds a shop already; nothing of it was changed");
    auto written = writeSettings(session, settings);
    if (!written)
        return core::failureOf(written);
    return {};
}

} // namespace milehold::storage
