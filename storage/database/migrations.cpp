// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/migrations.h"

#include "storage/database/dialect.h"
#include "storage/database/hash.h"
#include "storage/database/sql_error.h"
#include "storage/database/statement.h"
#include "storage/database/text.h"

#include <QDir>
#include <QFile>
#include <QSqlDatabase>
#include <QSqlError>
#include <QSqlQuery>

#include <algorithm>
#include <charconv>

// The resource lies in a static library, where nothing else would keep it; must stand outside any namespace.
static void keepMigrations() {
    Q_INIT_RESOURCE(milehold_migrations);
}

namespace milehold::storage {

namespace {

core::Result<void> record(QSqlDatabase& database, const Migration& step, core::Moment now) {
    QSqlQuery query(database);
    if (!query.prepare(QStringLiteral("INSERT INTO schema_migration (version, name, sha256, at, program) "
                                      "VALUES (:version, :name, :sha256, :at, :program)"))) {
        return tl::unexpected(sqlError(query.lastError(), "record a migration"));
    }
    query.bindValue(QStringLiteral(":version"), static_cast<qlonglong>(step.version));
    query.bindValue(QStringLiteral(":name"), toQt(step.name));
    query.bindValue(QStringLiteral(":sha256"), toQt(step.sha256));
    query.bindValue(QStringLiteral(":at"), toQt(core::toIso(now)));
    query.bindValue(QStringLiteral(":program"), QStringLiteral(MILEHOLD_VERSION));
    if (!query.exec())
        return tl::unexpected(sqlError(query.lastError(), "record a migration"));
    return {};
}

core::Result<void> apply(QSqlDatabase& database, const Migration& step, core::Moment now) {
    const std::string what = "migration " + step.name;
    for (const auto& statement : step.statements) {
        if (auto ran = runPlain(database, statement, what); !ran)
            return ran;
    }
    if (auto recorded = record(database, step, now); !recorded)
        return recorded;
    return dialect::finishMigration(database, step.version, what);
}

} // namespace

core::Result<Migration> parseMigration(const std::string& fileName, const std::string& text) {
    Migration step;
    step.name = fileName.substr(0, fileName.rfind(".sql"));
    const auto* const end = fileName.data() + std::min<std::size_t>(4, fileName.size());
    const auto [stopped, problem] = std::from_chars(fileName.data(), end, step.version);
    if (problem != std::errc() || stopped != end || step.version <= 0) {
        return core::fail(core::ErrorCode::Internal, fileName + ": a migration is named NNNN_what.sql");
    }
    step.sha256 = sha256(text);
    std::size_t from = 0;
    while (from <= text.size()) {
        auto to = text.find("\n-- next\n", from);
        if (to == std::string::npos)
            to = text.size();
        std::string statement = text.substr(from, to - from);
        if (statement.find_first_not_of(" \t\n") == std::string::npos) {
            return core::fail(core::ErrorCode::Internal, fileName + ": an empty statement");
        }
        step.statements.push_back(std::move(statement));
        from = to + 9;
    }
    return step;
}

core::Result<std::vector<Migration>> builtInMigrations(const std::string& engine) {
    keepMigrations();
    const QDir folder(QStringLiteral(":/migrations/") + toQt(engine));
    std::vector<Migration> steps;
    for (const QString& name : folder.entryList({QStringLiteral("*.sql")}, QDir::Files, QDir::Name)) {
        QFile file(folder.filePath(name));
        if (!file.open(QIODevice::ReadOnly)) {
            return core::fail(core::ErrorCode::Internal, "a built-in migration cannot be read");
        }
        auto step = parseMigration(name.toStdString(), file.readAll().toStdString());
        if (!step)
            return core::failureOf(step);
        if (step->version != static_cast<std::int64_t>(steps.size()) + 1) {
            return core::fail(core::ErrorCode::Internal,
                              "the built-in migrations are not numbered 1, 2, 3 ...");
        }
        steps.push_back(std::move(*step));
    }
    if (steps.empty())
        return core::fail(core::ErrorCode::Internal, "no migrations are built in");
    return steps;
}

core::Result<void> migrate(QSqlDatabase& database, const std::vector<Migration>& steps, std::int64_t from,
                           core::Moment now) {
    if (auto off = dialect::setForeignKeys(database, false); !off)
        return off;
    core::Result<void> outcome;
    for (const auto& step : steps) {
        if (step.version <= from)
            continue;
        outcome = runPlain(database, dialect::begin(engineOf(database)), "begin a migration");
        if (!outcome)
            break;
        outcome = apply(database, step, now);
        if (outcome)
            outcome = runPlain(database, "COMMIT", "commit a migration");
        if (!outcome) {
            // The first failure is what the caller wants to know; SQLite may have rolled back by itself.
            static_cast<void>(runPlain(database, "ROLLBACK", "roll back a migration"));
            break;
        }
    }
    if (auto on = dialect::setForeignKeys(database, true); outcome && !on)
        return on;
    return outcome;
}

} // namespace milehold::storage
