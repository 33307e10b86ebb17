// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/server/move_shop.h"

#include "storage/database/change_row.h"
#include "storage/database/dialect.h"
#include "storage/database/hash.h"
#include "storage/database/statement.h"
#include "storage/database/unit_of_work.h"
#include "storage/files/durable.h"
#include "storage/server/copy_table.h"
#include "storage/server/open_server.h"
#include "storage/server/postgresql_connection.h"

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

core::Moment now() {
    return std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
}

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
        now, false);
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

core::Result<std::vector<std::string>> attachedFiles(Session& from) {
    Statement select(from, "SELECT DISTINCT sha256 FROM attachment", "list the attachments");
    if (auto ran = select.run(); !ran)
        return core::failureOf(ran);
    std::vector<std::string> files;
    while (true) {
        const auto more = select.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            return files;
        files.push_back(select.text(0));
    }
}

core::Result<std::int64_t> copyFiles(const std::vector<std::string>& files, const fs::path& from,
                                     const fs::path& to) {
    for (const auto& name : files) {
        const fs::path shelf = name.substr(0, 2);
        const fs::path source = from / shelf / name;
        const fs::path target = to / shelf / name;
        std::error_code problem;
        if (!fs::exists(target, problem)) {
            fs::create_directories(to, problem);
            if (auto made = makeFolder(to / shelf); !made)
                return core::failureOf(made);
            if (auto copied = copyFile(source, target); !copied)
                return core::fail(copied.error().code, "an attachment's file: " + copied.error().detail);
        }
        if (sha256OfFile(target) != name)
            return core::fail(ErrorCode::Unreadable, "an attachment's file is not what its record says");
    }
    return static_cast<std::int64_t>(files.size());
}

core::Result<MoveReport> move(OpenedShop& source, OpenedShop& target, const fs::path& attachments) {
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
    const auto files = attachedFiles(from);
    if (!files)
        return core::failureOf(files);
    MoveReport report;
    if (!files->empty()) {
        const fs::path there = source.server ? attachments : source.folder.attachments();
        const fs::path here = target.server ? attachments : target.folder.attachments();
        if (there.empty() || here.empty())
            return core::fail(ErrorCode::InvalidInput,
                              "the shop has " + std::to_string(files->size()) +
                                  " files attached, and a server keeps none: expected --attachments FOLDER");
        const auto copied = copyFiles(*files, there, here); // before the records that name them
        if (!copied)
            return core::failureOf(copied);
        report.files = *copied;
    }
    auto moved = inOneUnitOnce(to, [&](UnitOfWork&) -> core::Result<void> {
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

core::Result<MoveReport> moveShop(const std::string& from, const std::string& to,
                                  const fs::path& attachments) {
    auto source = openSource(from);
    if (!source)
        return core::fail(source.error().code, shownName(from) + ": " + source.error().detail);
    auto target = openTarget(to);
    core::Result<MoveReport> moved;
    if (!target) {
        moved = core::fail(target.error().code, shownName(to) + ": " + target.error().detail);
    } else {
        moved = move(*source, *target, attachments);
        letGo(*target);
        if (!moved && !target->server) { // made a moment ago, and holds nothing
            std::error_code ignored;
            fs::remove_all(target->folder.root, ignored);
        }
    }
    letGo(*source);
    return moved;
}

} // namespace milehold::storage
