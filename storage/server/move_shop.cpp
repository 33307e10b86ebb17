// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/server/move_shop.h"

#include "storage/attachment_store.h"
#include "storage/database/change_row.h"
#include "storage/database/dialect.h"
#include "storage/database/statement.h"
#include "storage/database/unit_of_work.h"
#include "storage/files/durable.h"
#include "storage/machine_clock.h"
#include "storage/server/copy_table.h"
#include "storage/server/open_server.h"
#include "storage/server/postgresql_connection.h"

#include <set>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

core::Result<OpenedShop> openSource(const std::string& from) {
    if (isServerAddress(from))
        return openOnServer(from, {});
    const auto steps = builtInMigrations("sqlite");
    if (!steps)
        return core::failureOf(steps);
    return openShop(ShopFolder{from}, {}, *steps);
}

core::Result<OpenedShop> openServerTarget(const std::string& to) {
    const auto address = parseServerAddress(to);
    if (!address)
        return core::failureOf(address);
    const auto steps = builtInMigrations("postgresql");
    if (!steps)
        return core::failureOf(steps);
    OpenedShop shop;
    shop.server = *address;
    shop.session = std::make_unique<Session>(
        [where = *address]() -> core::Result<QSqlDatabase> {
            auto database = openPostgresql(where, "move");
            if (!database)
                return database;
            // Whoever keeps the server is a member of it; for anybody else the copy fails for want of rights.
            static_cast<void>(runPlain(*database, "SET ROLE shop_schema", "move a shop"));
            static_cast<void>(runPlain(*database, "SET statement_timeout = 0", "move a shop"));
            return database;
        },
        machineNow, false);
    shop.session->setServer(*address);
    if (auto connected = shop.session->connect(); !connected)
        return core::failureOf(connected);
    const auto schema = serverSchema(shop.session->database());
    if (!schema)
        return core::failureOf(schema);
    if (*schema != steps->back().version)
        return core::fail(
            ErrorCode::NotAShop,
            "the database is not set up for this program; run `milehold-cli server-setup` first");
    const auto rows = askPlain(shop.session->database(),
                               "SELECT (SELECT count(*) FROM shop) + (SELECT count(*) FROM change_log) + "
                               "(SELECT count(*) FROM job) + (SELECT count(*) FROM vehicle)",
                               "look for a shop");
    if (!rows)
        return core::failureOf(rows);
    if (*rows != intValue(0))
        return core::fail(ErrorCode::InvalidInput,
                          "the database holds a shop already; a move needs an empty one");
    return shop;
}

core::Result<OpenedShop> openTarget(const std::string& to) {
    if (isServerAddress(to))
        return openServerTarget(to);
    const auto steps = builtInMigrations("sqlite");
    if (!steps)
        return core::failureOf(steps);
    return createEmptyShop(ShopFolder{to}, {}, *steps);
}

/// One view of the source, whatever others save meanwhile.
core::Result<void> beginReading(Session& from) {
    const bool onServer = engineOf(from.database()) == Engine::Postgresql;
    return runPlain(from.database(), onServer ? "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY" : "BEGIN",
                    "read the shop");
}

core::Result<void> copyAll(Session& from, Session& to, const std::vector<TableShape>& tables) {
    Statement empty(to, "DELETE FROM counter", "move a shop"); // each new shop begins with one of its own
    if (auto ran = empty.run(); !ran)
        return ran;
    for (const auto& table : tables) {
        // An odometer that fell at delivery is taken only where an instrument was replaced: typed readings
        // first.
        const bool isOdometer = table.name == "odometer";
        if (auto copied = copyTable(from, to, table, isOdometer ? "source = 'typed'" : ""); !copied)
            return core::failureOf(copied);
        if (table.name != "follow_up")
            continue;
        const auto odometer = std::ranges::find(tables, "odometer", &TableShape::name);
        if (auto copied = copyTable(from, to, *odometer, "source <> 'typed'"); !copied)
            return core::failureOf(copied);
    }
    return {};
}

core::Result<void> prove(Session& from, Session& to, const std::vector<TableShape>& tables,
                         MoveReport& report) {
    for (const auto& table : tables) {
        const auto there = digestOf(from, table);
        if (!there)
            return core::failureOf(there);
        const auto here = digestOf(to, table);
        if (!here)
            return core::failureOf(here);
        report.tables.push_back({table.name, here->rows, there->sha256, here->sha256});
        if (there->rows != here->rows || there->sha256 != here->sha256)
            return core::fail(ErrorCode::Unreadable,
                              "the copy of " + table.name + " differs; nothing was kept");
    }
    const auto broken = ChangeLog(to).firstBroken();
    if (!broken)
        return core::failureOf(broken);
    if (*broken)
        return core::fail(ErrorCode::Unreadable, "the change log does not fit from row " +
                                                     std::to_string(**broken) + " on; nothing was kept");
    auto head = ChangeLog(to).head();
    if (!head)
        return core::failureOf(head);
    report.head = *head;
    return {};
}

AttachmentStore filesOf(OpenedShop& shop) {
    return {*shop.session, shop.server ? fs::path() : shop.folder.attachments()};
}

/// Every content that a record names, before the records themselves, checked against its SHA-256 on the way
/// and again where it arrived.
core::Result<std::int64_t> copyFiles(OpenedShop& source, OpenedShop& target) {
    const auto records = filesOf(source).all();
    if (!records)
        return core::failureOf(records);
    std::set<std::string> there;
    for (const auto& record : *records) {
        if (!there.insert(record.sha256).second)
            continue;
        const auto content = filesOf(source).read(record.sha256);
        if (!content)
            return core::failureOf(content);
        if (auto kept = filesOf(target).keep(record.sha256, record.size, *content); !kept)
            return core::failureOf(kept);
        if (target.server) {
            if (auto same = AttachmentContents(*target.session).check(record.sha256, record.size); !same)
                return core::failureOf(same);
        }
    }
    return static_cast<std::int64_t>(there.size());
}

core::Result<MoveReport> move(OpenedShop& source, OpenedShop& target) {
    Session& from = *source.session;
    Session& to = *target.session;
    const auto tables = recordTables(from);
    if (!tables)
        return core::failureOf(tables);
    const auto same = recordTables(to);
    if (!same)
        return core::failureOf(same);
    if (*tables != *same)
        return core::fail(ErrorCode::Internal, "the two engines' tables differ");
    if (auto begun = beginReading(from); !begun)
        return core::failureOf(begun);
    MoveReport report;
    auto moved = inOneUnitOnce(to, [&](UnitOfWork&) -> core::Result<void> {
        const auto files = copyFiles(source, target);
        if (!files)
            return core::failureOf(files);
        report.files = *files;
        if (auto copied = copyAll(from, to, *tables); !copied)
            return copied;
        return prove(from, to, *tables, report);
    });
    static_cast<void>(runPlain(from.database(), "ROLLBACK", "read the shop"));
    if (!moved)
        return core::failureOf(moved);
    return report;
}

void letGo(OpenedShop& shop) {
    shop.session->close();
    if (!shop.server)
        static_cast<void>(removeFile(shop.folder.openMark()));
    shop.lock.reset();
}

} // namespace

core::Result<MoveReport> moveShop(const std::string& from, const std::string& to) {
    auto source = openSource(from);
    if (!source)
        return core::fail(source.error().code, shownName(from) + ": " + source.error().detail);
    std::error_code ignored;
    const bool wasThere = fs::exists(to, ignored); // an empty folder that somebody made stays
    auto target = openTarget(to);
    core::Result<MoveReport> moved;
    if (!target) {
        moved = core::fail(target.error().code, shownName(to) + ": " + target.error().detail);
    } else {
        moved = move(*source, *target);
        letGo(*target);
        if (!moved && !target->server) { // what it holds was made a moment ago
            for (const auto& entry : fs::directory_iterator(target->folder.root, ignored))
                fs::remove_all(entry.path(), ignored);
            if (!wasThere)
                fs::remove(target->folder.root, ignored);
        }
    }
    letGo(*source);
    return moved;
}

} // namespace milehold::storage
