// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/faults/saver.h"

#include "storage/backup_shelf.h"
#include "storage/database/hash.h"
#include "storage/database/sqlite_connection.h"
#include "storage/machine_clock.h"
#include "storage/make_id.h"
#include "storage/shop_open.h"
#include "tests/faults/children.h"
#include "tests/storage/support/shop_fixture.h"

#include <sqlite3.h>

#include <string>
#include <unistd.h>

namespace milehold::test {

using core::Distance;

Bench makeBenchShop(const std::filesystem::path& folder) {
    auto shop = storage::Shop::create(folder, someSettings()).value();
    const auto family = shop->shelf().save(someFamily()).value();
    core::PartNumber part;
    part.number = "PH-2204";
    part.component = core::Component::Phaser;
    part = shop->shelf().save(part).value();
    core::RepairPath path;
    path.name = "Both intake phasers";
    path.applies = {{{}, family.id, {}, {}, {}, {}}};
    path = shop->shelf().save(path).value();
    const auto technician = shop->staff().save(someStaff()).value();
    core::Vehicle vehicle = someVehicle();
    vehicle.family = family.id;
    vehicle = shop->vehicles().save(vehicle).value();
    EXPECT_OK(shop->close());
    return {vehicle.id, path.id, part.id, technician.id};
}

Bench benchOf(storage::Shop& shop) {
    const auto shelf = shop.shelf().load().value();
    const auto vehicle = shop.vehicles().findByVin(someVehicle().vin).value();
    return {vehicle->id, shelf.paths.at(0).id, shelf.parts.at(0).id, shop.staff().list().value().at(0).id};
}

core::Job benchJob(const Bench& bench, std::int64_t mark) {
    core::Job job;
    job.id = storage::makeId<core::JobId>();
    job.vehicle = bench.vehicle;
    job.path = bench.path;
    job.writtenUp = job.delivered.emplace(day(2031, 4, 9));
    job.odometerIn = Distance::miles(50'000);
    job.odometerOut = Distance::miles(50'001);
    job.technician = bench.technician;
    job.repairOrder = "F" + std::to_string(mark);
    job.concern = "Rattles, mark " + std::to_string(mark);
    job.lines = {"Drain oil", "Set timing"};
    job.parts = {{bench.part, core::Position{1, core::CamRole::Intake}, "L" + std::to_string(mark), 1, {100}},
                 {bench.part, core::Position{2, core::CamRole::Intake}, "", 1, {100}}};
    job.codes = {{"P0011", false}};
    return job;
}

int saveUntilKilled(const char* folder) {
    auto shop = storage::Shop::open(folder);
    if (!shop)
        return 3;
    const Bench bench = benchOf(**shop);
    for (std::int64_t mark = 1;; ++mark) {
        if (!(*shop)->drafts().keep("job", "half a sentence " + std::to_string(mark)))
            return 4;
        const auto saved = (*shop)->jobs().save({benchJob(bench, mark), {}, {}});
        if (!saved)
            return 5;
        const std::string line =
            std::to_string(saved->job.number) + " " + core::toString(saved->job.id.uuid) + "\n";
        if (::write(STDOUT_FILENO, line.data(), line.size()) != static_cast<ssize_t>(line.size()))
            return 6;
    }
}

int backUpUntilKilled(const char* folder) {
    auto shop = storage::Shop::open(folder);
    if (!shop)
        return 3;
    const Bench bench = benchOf(**shop);
    for (std::int64_t mark = 1;; ++mark) {
        if (!(*shop)->jobs().save({benchJob(bench, mark), {}, {}}))
            return 5;
        if (!(*shop)->backUp(storage::BackupReason::OnDemand))
            return 7;
        if (::write(STDOUT_FILENO, "b\n", 2) != 2)
            return 6;
    }
}

int migrateSlowly(const char* folder) {
    auto steps = storage::builtInMigrations("sqlite").value();
    const std::string name = "000" + std::to_string(steps.size() + 1) + "_later.sql";
    // The long statement gives the kill something to meet.
    steps.push_back(storage::parseMigration(
                        name,
                        "CREATE TABLE tool (id INTEGER PRIMARY KEY NOT NULL, text TEXT NOT NULL) STRICT\n"
                        "-- next\nUPDATE vehicle SET note = 'migrated'\n-- next\n"
                        "INSERT INTO tool (id, text) WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 "
                        "FROM n WHERE i < 30000) SELECT i, 'tool number ' || i FROM n\n-- next\n"
                        "ALTER TABLE job ADD COLUMN bay TEXT NOT NULL DEFAULT ''")
                        .value());
    if (::write(STDOUT_FILENO, "m\n", 2) != 2)
        return 6;
    const auto opened = storage::openShop({folder}, {}, steps);
    // Waits for the kill, so that it is always what ends this.
    ::pause();
    return opened ? 0 : 3;
}

int openUntilKilled(const char* folder) {
    if (::write(STDOUT_FILENO, "o\n", 2) != 2)
        return 6;
    const auto opened = storage::Shop::open(folder);
    // Waits for the kill, so that it is always what ends this.
    ::pause();
    return opened ? 0 : 3;
}

int saveBesideOthers(const char* folder, int jobs) {
    // No lock of the folder: a connection of its own for each save, as the engine's own locks let them by.
    for (int mark = 0; mark < jobs; ++mark) {
        bool saved = false;
        for (int attempt = 0; attempt < 200 && !saved; ++attempt) {
            storage::Session session(
                [folder] {
                    return storage::openSqlite(storage::ShopFolder{folder}.database(),
                                               storage::Access::Write);
                },
                [] { return storage::machineNow(); }, false);
            if (!session.connect())
                continue; // another process holds the file
            storage::JobStore store(session);
            storage::VehicleStore vehicles(session);
            const auto vehicle = vehicles.findByVin(someVehicle().vin);
            const auto shelf = storage::ShelfStore(session).load();
            const auto staff = storage::StaffStore(session).list();
            if (!vehicle || !shelf || !staff)
                return 11;
            const Bench bench{(*vehicle)->id, shelf->paths.at(0).id, shelf->parts.at(0).id, staff->at(0).id};
            saved = store.save({benchJob(bench, mark), {}, {}}).has_value();
            session.close();
        }
        if (!saved)
            return 12;
    }
    return 0;
}

bool hasJobs(storage::Shop& shop, std::size_t count) {
    const auto rows = shop.jobs().rows({.limit = 100'000});
    return rows && rows->size() == count;
}

std::optional<std::size_t> saveUntilRefused(storage::Shop& shop, const Bench& bench) {
    constexpr std::int64_t kNoEnd = 10'000;
    std::size_t jobs = 0;
    int refusedInARow = 0;
    for (std::int64_t mark = 0; refusedInARow < 20; ++mark) {
        const auto saved = shop.jobs().save({benchJob(bench, mark), {}, {}});
        if (mark == kNoEnd || (!saved && saved.error().code != core::ErrorCode::DiskProblem))
            return std::nullopt;
        jobs += saved ? 1 : 0;
        refusedInARow = saved ? 0 : refusedInARow + 1;
        if (!saved && !hasJobs(shop, jobs))
            return std::nullopt;
    }
    return jobs;
}

std::string contentOf(const std::filesystem::path& file, const std::vector<std::string>& tables,
                      const std::map<std::string, int>& widths) {
    sqlite3* handle = nullptr;
    EXPECT_EQ(sqlite3_open_v2(file.c_str(), &handle, SQLITE_OPEN_READWRITE, nullptr), SQLITE_OK);
    const auto each = [&](const std::string& sql, const auto& take) {
        sqlite3_stmt* statement = nullptr;
        EXPECT_EQ(sqlite3_prepare_v2(handle, sql.c_str(), -1, &statement, nullptr), SQLITE_OK) << sql;
        int code = SQLITE_OK;
        while ((code = sqlite3_step(statement)) == SQLITE_ROW)
            take(statement);
        EXPECT_EQ(code, SQLITE_DONE) << sql;
        sqlite3_finalize(statement);
    };
    std::vector<std::string> names = tables;
    if (names.empty())
        each("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name", [&](sqlite3_stmt* row) {
            names.emplace_back(reinterpret_cast<const char*>(sqlite3_column_text(row, 0)));
        });
    std::string hash;
    for (const auto& name : names) {
        each("SELECT * FROM " + name, [&](sqlite3_stmt* row) {
            std::string cells = hash + name;
            const auto width = widths.find(name);
            const int columns = width == widths.end() ? sqlite3_column_count(row) : width->second;
            for (int i = 0; i < columns; ++i) {
                const auto* text = reinterpret_cast<const char*>(sqlite3_column_text(row, i));
                cells += text == nullptr ? "\n-"
                                         : "\n" + std::to_string(sqlite3_column_bytes(row, i)) + ":" + text;
            }
            hash = storage::sha256(cells);
        });
    }
    sqlite3_close(handle);
    return hash;
}

std::int64_t countInFile(const std::filesystem::path& folder, const char* sql) {
    sqlite3* handle = nullptr;
    sqlite3_stmt* statement = nullptr;
    std::int64_t number = -1;
    if (sqlite3_open_v2((folder / "store" / "shop.db").c_str(), &handle, SQLITE_OPEN_READWRITE, nullptr) ==
            SQLITE_OK &&
        sqlite3_prepare_v2(handle, sql, -1, &statement, nullptr) == SQLITE_OK &&
        sqlite3_step(statement) == SQLITE_ROW)
        number = sqlite3_column_int64(statement, 0);
    sqlite3_finalize(statement);
    sqlite3_close(handle);
    return number;
}

} // namespace milehold::test
