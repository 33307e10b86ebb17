// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/salvage.h"

#include "core/shop/validation.h"
#include "storage/backup_shelf.h"
#include "storage/database/each_row.h"
#include "storage/database/migrations.h"
#include "storage/database/sqlite_connection.h"
#include "storage/files/durable.h"
#include "storage/files/full_check.h"
#include "storage/files/salvage_writer.h"
#include "storage/files/shop_lock.h"
#include "storage/make_id.h"
#include "storage/records/history.h"
#include "storage/records/repository.h"
#include "storage/records/stored.h"
#include "storage/shop_care.h"
#include "storage/shop_open.h"

#include <algorithm>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

/// A folder for the copy and the new file, gone on the way out.
class Bench {
public:
    explicit Bench(const fs::path& root) : path_(root / ("salvage-" + core::toString(makeUuid()))) {}
    ~Bench() {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    Bench(const Bench&) = delete;
    Bench& operator=(const Bench&) = delete;
    const fs::path& path() const { return path_; }

private:
    fs::path path_;
};

core::Result<void> copyForReading(const fs::path& database, const fs::path& copy) {
    if (auto copied = copyFile(database, copy); !copied)
        return copied;
    std::error_code problem;
    for (const auto* ending : {"-journal", "-wal"}) {
        const fs::path beside = fs::path(database) += ending;
        if (!fs::exists(beside, problem))
            continue;
        if (auto copied = copyFile(beside, fs::path(copy) += ending); !copied)
            return copied;
    }
    return {};
}

core::Result<void> makeEmpty(const fs::path& file, const std::vector<Migration>& steps, core::Moment now) {
    if (auto made = createFile(file, ""); !made)
        return made;
    auto database = openSqlite(file, Access::Write);
    if (!database)
        return core::failureOf(database);
    auto migrated = migrate(*database, steps, 0, now);
    closeSqlite(*database);
    return migrated;
}

/// Ids of the records of a type that this program cannot read back.
template <class T> core::Result<std::vector<std::string>> unreadableOf(Session& session) {
    Statement select(session, recordSql<T>().select, recordSql<T>().reading);
    std::vector<std::string> ids;
    const auto read = eachRow(select, [&] {
        const auto record = readRecord<T>(session, select);
        if (!record || record->id.isNull())
            ids.push_back(select.text(0));
    });
    if (!read)
        return core::failureOf(read);
    return ids;
}

std::unique_ptr<Session> sessionOn(const fs::path& file, core::Moment now) {
    return std::make_unique<Session>([file] { return openSqlite(file, Access::Write); },
                                     [now] { return now; }, false);
}

core::Result<void> refuseUnreadable(SalvageWriter& writer, const fs::path& file, core::Moment now) {
    // Read by a connection of its own, between two of the writer's.
    std::vector<std::pair<std::string, std::vector<std::string>>> refused;
    {
        const auto session = sessionOn(file, now);
        core::Result<void> outcome = session->connect();
        const auto look = [&]<class T>(const T* /*type*/) {
            if (!outcome)
                return;
            auto ids = unreadableOf<T>(*session);
            if (!ids)
                outcome = core::failureOf(ids);
            else
                refused.emplace_back(recordTable<T>().name, std::move(*ids));
        };
        look(static_cast<const core::Staff*>(nullptr));
        look(static_cast<const core::Customer*>(nullptr));
        look(static_cast<const core::EngineFamily*>(nullptr));
        look(static_cast<const core::PartNumber*>(nullptr));
        look(static_cast<const core::Calibration*>(nullptr));
        look(static_cast<const core::RepairPath*>(nullptr));
        look(static_cast<const core::ShelfNote*>(nullptr));
        look(static_cast<const core::Vehicle*>(nullptr));
        look(static_cast<const core::Job*>(nullptr));
        look(static_cast<const core::FollowUp*>(nullptr));
        look(static_cast<const StoredOdometer*>(nullptr));
        look(static_cast<const StoredSettings*>(nullptr));
        if (!outcome)
            return outcome;
    }
    for (const auto& [table, ids] : refused) {
        if (auto done = writer.refuse(table, ids); !done)
            return done;
    }
    return {};
}

/// Counts saved records that break a rule of core, gives each job and call the odometer readings that belong
/// to it, and writes the salvage into the log.
core::Result<std::int64_t> settle(Session& session, std::string_view summary) {
    if (!findRecord<StoredSettings>(session, StoredSettings::kId.uuid)) {
        core::ShopSettings settings;
        settings.name = "Salvaged shop";
        settings.currency = "USD";
        if (auto written = writeSettings(session, settings); !written)
            return core::failureOf(written);
    }
    return inOneUnit(session, [&](UnitOfWork& unit) -> core::Result<std::int64_t> {
        std::int64_t broken = 0;
        const auto count = [&](const core::Findings& findings) {
            broken += std::ranges::any_of(
                          findings, [](const auto& one) { return one.severity == core::Severity::Error; })
                          ? 1
                          : 0;
        };
        auto customers = readAll<core::Customer>(session, "ORDER BY rowid");
        auto vehicles = readAll<core::Vehicle>(session, "ORDER BY rowid");
        auto jobs = readAll<core::Job>(session, "ORDER BY rowid");
        auto calls = readAll<core::FollowUp>(session, "ORDER BY rowid");
        if (!customers || !vehicles || !jobs || !calls)
            return core::fail(ErrorCode::Unreadable, "the salvaged records cannot be read back");
        for (const auto& customer : *customers)
            count(core::validate(customer));
        for (const auto& vehicle : *vehicles)
            count(core::validate(vehicle));
        std::unordered_map<core::Uuid, core::VehicleId, UuidHash> vehicleOf;
        for (const auto& job : *jobs) {
            vehicleOf.emplace(job.id.uuid, job.vehicle);
            if (auto kept = keepOdometers(unit, session, job); !kept)
                return core::failureOf(kept);
        }
        for (const auto& call : *calls) {
            if (auto kept = keepOdometers(unit, session, call, vehicleOf.at(call.job.uuid)); !kept)
                return core::failureOf(kept);
        }
        if (auto logged = unit.log(ChangeAction::Update, "shop", StoredSettings::kId.uuid,
                                   {{"salvaged", {}, textValue(std::string(summary)), false}});
            !logged)
            return core::failureOf(logged);
        return broken;
    });
}

core::Result<void> expectWhole(Session& session) {
    const auto report = fullCheck(session);
    if (!report)
        return core::failureOf(report);
    if (report->sound())
        return {};
    return core::fail(ErrorCode::Unreadable, "what was salvaged is not whole: " + report->problems.front());
}

core::Result<void> moveInPlace(const ShopFolder& folder, const fs::path& fresh, const fs::path& aside) {
    std::error_code problem;
    for (const auto* ending : {"-journal", "-wal", "-shm", ""}) {
        const fs::path file = fs::path(folder.database()) += ending;
        if (!fs::exists(fs::symlink_status(file, problem)))
            continue;
        if (auto moved = renameFile(file, aside / file.filename()); !moved)
            return moved;
    }
    if (auto renamed = renameFile(fresh, folder.database()); !renamed)
        return renamed;
    return removeFile(folder.openMark());
}

} // namespace

std::int64_t SalvageReport::jobs() const {
    const auto found = std::ranges::find(tables, "job", &SalvagedTable::name);
    return found == tables.end() ? 0 : found->saved;
}

std::string SalvageReport::text() const {
    std::string lines;
    for (const auto& table : tables) {
        lines += table.name + ": " + std::to_string(table.saved) + " rows saved";
        if (table.fromBackup > 0)
            lines += " (" + std::to_string(table.fromBackup) + " of them from the newest good backup)";
        if (table.refused > 0)
            lines += ", " + std::to_string(table.refused) + " refused";
        if (table.hasGap)
            lines += ", a part could not be read";
        if (table.inBackup)
            lines += "; the newest good backup has " + std::to_string(*table.inBackup);
        lines += "\n";
    }
    lines += "change log: " + std::to_string(logKept) + " rows kept, " + std::to_string(logAside) +
             " behind the break of its chain written to change-log-rest.csv\n";
    lines += std::to_string(breakARule) + " saved records break a rule and want looking at\n";
    return lines;
}

core::Result<SalvageReport> salvageShop(const fs::path& shopFolder, core::Moment now) {
    const ShopFolder folder{shopFolder};
    std::error_code problem;
    if (!fs::is_regular_file(folder.database(), problem))
        return core::fail(ErrorCode::NotFound, "there is no shop's file to salvage");
    auto lock = ShopLock::take(folder);
    if (!lock)
        return core::failureOf(lock);
    auto steps = builtInMigrations("sqlite");
    if (!steps)
        return core::failureOf(steps);
    const Bench bench(folder.root);
    if (auto made = makeFolder(bench.path()); !made)
        return core::failureOf(made);
    const fs::path copy = bench.path() / "damaged.db";
    const fs::path fresh = bench.path() / "shop.db";
    const fs::path rest = bench.path() / "change-log-rest.csv";
    if (auto copied = copyForReading(folder.database(), copy); !copied)
        return core::failureOf(copied);
    std::optional<fs::path> backup;
    if (const auto good = newestGoodBackup(shopFolder))
        backup = good->folder / "shop.db";
    auto reader = LenientReader::open(copy, backup);
    if (!reader)
        return core::failureOf(reader);
    if (reader->schema() > steps->back().version)
        return core::fail(ErrorCode::TooNew, "the damaged shop was written by a newer program");
    if (auto made = makeEmpty(fresh, *steps, now); !made)
        return core::failureOf(made);

    SalvageReport report;
    {
        auto writer = SalvageWriter::open(fresh, backup);
        if (!writer)
            return core::failureOf(writer);
        core::Result<void> done = writer->takeRecords(*reader);
        if (done)
            done = writer->takeLog(*reader, rest);
        if (done)
            done = writer->mendReferences();
        if (done)
            done = writer->pause();
        if (done)
            done = refuseUnreadable(*writer, fresh, now);
        if (done)
            done = writer->mendReferences();
        if (done)
            done = writer->finish();
        if (!done)
            return core::failureOf(done);
        for (const auto& [name, table] : writer->tables()) {
            if (name != "counter" && name != "schema_migration")
                report.tables.push_back(table);
        }
        report.logKept = writer->logKept();
        report.logAside = writer->logAside();
    }
    const auto session = sessionOn(fresh, now);
    if (auto connected = session->connect(); !connected)
        return core::failureOf(connected);
    auto broken = settle(*session, report.text());
    if (!broken)
        return core::failureOf(broken);
    report.breakARule = *broken;
    if (auto whole = expectWhole(*session); !whole)
        return core::failureOf(whole);
    session->close();

    report.damaged = folder.root / ("damaged-" + stamp(now));
    for (int i = 2; fs::exists(report.damaged, problem); ++i)
        report.damaged = folder.root / ("damaged-" + stamp(now) + "-" + std::to_string(i));
    if (auto made = makeFolder(report.damaged); !made)
        return core::failureOf(made);
    if (auto written = createFile(report.damaged / "salvage-report.txt", report.text()); !written)
        return core::failureOf(written);
    if (fs::exists(rest, problem)) {
        if (auto moved = renameFile(rest, report.damaged / rest.filename()); !moved)
            return core::failureOf(moved);
    }
    if (auto moved = moveInPlace(folder, fresh, report.damaged); !moved)
        return core::failureOf(moved);
    return report;
}

} // namespace milehold::storage
