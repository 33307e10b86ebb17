// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/server/postgresql_connection.h"

#include "storage/database/sql_error.h"
#include "storage/database/statement.h"
#include "storage/database/text.h"
#include "storage/offline.h"

#include <QSqlError>
#include <QUuid>

#include <array>
#include <string>

namespace milehold::storage {

using core::ErrorCode;

namespace {

constexpr std::int64_t kOldestServer = 130000;

/// A network that went away is noticed in five to seven seconds; without the second option a caller hung
/// past 40.
constexpr std::string_view kPatience = "connect_timeout=5;tcp_user_timeout=5000;keepalives_idle=10;"
                                       "keepalives_interval=3;keepalives_count=3";

std::string quotedValue(std::string_view value) {
    std::string text = "'";
    for (const char c : value) {
        if (c == '\'' || c == '\\')
            text += '\\';
        text += c;
    }
    return text + "'";
}

std::string connectOptions(const ServerAddress& address, std::string_view purpose) {
    std::string options(kPatience);
    options += ";application_name=" + quotedValue("milehold " + std::string(purpose));
    for (const auto& [name, value] : address.options)
        options += ";" + name + "=" + quotedValue(value);
    // Where nothing else was said: the server proves who it is, unless it is this machine itself.
    const bool isSaid = address.options.contains("sslmode") || address.options.contains("service") ||
                        !qEnvironmentVariableIsEmpty("PGSSLMODE");
    if (!isSaid)
        options += address.isLocal() ? ";sslmode=prefer" : ";sslmode=verify-full";
    return options;
}

struct Refusal {
    std::string_view words; ///< as libpq and the server write them in English
    ErrorCode code;
    std::string_view ours;
};

constexpr std::array kRefusals = {
    Refusal{"no password supplied", ErrorCode::ReadOnly,
            "the server wants a password, and none was found in the password file (~/.pgpass or PGPASSFILE)"},
    Refusal{"password authentication failed", ErrorCode::ReadOnly,
            "the server does not take this user's password, or the password file has none for it"},
    Refusal{"no pg_hba.conf entry", ErrorCode::ReadOnly,
            "the server lets nobody in from here with this user, database and encryption (pg_hba.conf)"},
    Refusal{"authentication failed", ErrorCode::ReadOnly, "the server does not let this user in"},
    Refusal{"role \"", ErrorCode::ReadOnly, "the server does not know this user"},
    Refusal{"database \"", ErrorCode::NotFound, "the server has no such database"},
    Refusal{"root certificate file", ErrorCode::Unsupported,
            "the server's certificate cannot be checked: put its authority's into ~/.postgresql/root.crt, or "
            "name "
            "the file as sslrootcert"},
    Refusal{"certificate verify failed", ErrorCode::Unsupported,
            "the server's certificate was not signed by the authority that is trusted here"},
    Refusal{"does not match host name", ErrorCode::Unsupported,
            "the server's certificate is for another name than the one in the address"},
    Refusal{"does not support SSL", ErrorCode::Unsupported, "the server offers no TLS"},
    Refusal{"definition of service", ErrorCode::NotFound, "the service file does not name this service"},
    Refusal{"too many clients", ErrorCode::InUse, "the server has no free connection"},
    Refusal{"starting up", ErrorCode::Offline, "the server is just starting"},
    Refusal{"shutting down", ErrorCode::Offline, "the server is shutting down"},
    Refusal{"could not translate host name", ErrorCode::Offline, "no machine of this name is known"},
};

/// Only our own words: the server's may be in any language and hold names of people.
core::Error refusalIn(const QSqlError& error) {
    const std::string text = error.databaseText().toStdString();
    for (const auto& one : kRefusals) {
        if (text.find(one.words) != std::string::npos)
            return {one.code, std::string(one.ours)};
    }
    return offlineError("no server answers at this address");
}

core::Result<std::string> ask(QSqlDatabase& database, std::string_view sql) {
    auto value = askPlain(database, sql, "look at the server");
    if (!value)
        return core::failureOf(value);
    if (const auto* number = std::get_if<std::int64_t>(&*value))
        return std::to_string(*number);
    const auto* text = std::get_if<std::string>(&*value);
    return text == nullptr ? std::string() : *text;
}

struct Setting {
    std::string_view set;
    std::string_view ask;
    std::string_view wanted;
};

constexpr std::array kSettings = {
    Setting{"SET standard_conforming_strings = on", "SHOW standard_conforming_strings", "on"},
    Setting{"SET client_min_messages = error", "SHOW client_min_messages", "error"},
    Setting{"SET search_path = milehold, pg_temp", "SHOW search_path", "milehold, pg_temp"},
    Setting{"SET statement_timeout = '15s'", "SHOW statement_timeout", "15s"},
    Setting{"SET lock_timeout = '3s'", "SHOW lock_timeout", "3s"},
    Setting{"SET idle_in_transaction_session_timeout = '30s'", "SHOW idle_in_transaction_session_timeout",
            "30s"},
    Setting{"SET synchronous_commit = on", "SHOW synchronous_commit", "on"},
    Setting{"SET default_transaction_isolation = 'read committed'", "SHOW default_transaction_isolation",
            "read committed"},
};

core::Result<void> checkPrivacy(QSqlDatabase& database) {
    // Both ends as the server sees them: an address that only looks like this machine does not count.
    const auto apart =
        ask(database, "SELECT CASE WHEN inet_server_addr() IS NULL OR (inet_server_addr() <<= "
                      "'127.0.0.0/8' OR inet_server_addr() <<= '::1') THEN 'here' WHEN (SELECT ssl "
                      "FROM pg_stat_ssl WHERE pid = pg_backend_pid()) THEN 'tls' ELSE 'open' END");
    if (!apart)
        return core::failureOf(apart);
    if (*apart == "open")
        return core::fail(
            ErrorCode::Unsupported,
            "the connection to the server is not encrypted; expected TLS (sslmode=verify-full)");
    return {};
}

core::Result<void> prepare(QSqlDatabase& database) {
    const auto version = ask(database, "SELECT current_setting('server_version_num')::bigint");
    if (!version)
        return core::failureOf(version);
    if (std::stoll(*version) < kOldestServer)
        return core::fail(ErrorCode::Unsupported, "the server is PostgreSQL " +
                                                      std::to_string(std::stoll(*version) / 10000) +
                                                      "; 13 or newer was expected");
    const auto characters = ask(database, "SHOW server_encoding");
    if (!characters)
        return core::failureOf(characters);
    if (*characters != "UTF8")
        return core::fail(ErrorCode::Unsupported,
                          "the database does not keep UTF-8 text; expected ENCODING 'UTF8'");
    for (const auto& setting : kSettings) {
        if (auto done = runPlain(database, setting.set, setting.set); !done)
            return done;
        const auto now = ask(database, setting.ask);
        if (!now)
            return core::failureOf(now);
        if (*now != setting.wanted)
            return core::fail(ErrorCode::Internal, std::string(setting.set) + " did not hold");
    }
    return checkPrivacy(database);
}

} // namespace

core::Result<QSqlDatabase> openPostgresql(const ServerAddress& address, std::string_view purpose) {
    const QString name = QUuid::createUuid().toString(QUuid::WithoutBraces);
    auto database = QSqlDatabase::addDatabase(QStringLiteral("QPSQL"), name);
    if (!database.isValid()) {
        closeConnection(database);
        return core::fail(ErrorCode::Internal,
                          "Qt's driver for PostgreSQL is not installed (libqt6sql6-psql)");
    }
    database.setHostName(toQt(address.host));
    database.setDatabaseName(toQt(address.database));
    database.setUserName(toQt(address.user));
    if (address.port != 0)
        database.setPort(address.port);
    database.setConnectOptions(toQt(connectOptions(address, purpose)));
    core::Result<void> ready;
    if (!database.open())
        ready = tl::unexpected(refusalIn(database.lastError()));
    else
        ready = prepare(database);
    if (!ready) {
        closeConnection(database);
        return core::failureOf(ready);
    }
    return database;
}

void closeConnection(QSqlDatabase& database) {
    const QString name = database.connectionName();
    database.close();
    database = QSqlDatabase();
    QSqlDatabase::removeDatabase(name);
}

} // namespace milehold::storage
