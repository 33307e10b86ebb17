// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/faults/many_jobs.h"

#include "storage/database/change_row.h"
#include "storage/database/hash.h"
#include "storage/make_id.h"
#include "tests/storage/support/shop_fixture.h"

#include <sqlite3.h>

#include <memory>

namespace milehold::test {

namespace {

using Prepared = std::unique_ptr<sqlite3_stmt, decltype(&sqlite3_finalize)>;

} // namespace

void multiplyJobs(const fs::path& file, int count) {
    sqlite3* handle = nullptr;
    ASSERT_EQ(sqlite3_open(file.c_str(), &handle), SQLITE_OK);
    const auto run = [&](const char* sql) {
        char* problem = nullptr;
        ASSERT_EQ(sqlite3_exec(handle, sql, nullptr, nullptr, &problem), SQLITE_OK) << sql << ": " << problem;
    };
    run("PRAGMA foreign_keys = ON");
    run("BEGIN");
    run("CREATE TEMP TABLE one AS SELECT * FROM job WHERE delivered IS NOT NULL AND comeback_of IS NULL "
        "AND void_reason = '' ORDER BY number LIMIT 1");
    run("CREATE TEMP TABLE car AS SELECT * FROM vehicle WHERE id = (SELECT vehicle_id FROM one)");
    const auto prepare = [&](const char* sql) {
        sqlite3_stmt* made = nullptr;
        EXPECT_EQ(sqlite3_prepare_v2(handle, sql, -1, &made, nullptr), SQLITE_OK) << sqlite3_errmsg(handle);
        return Prepared(made, sqlite3_finalize);
    };
    const auto newCar = prepare("UPDATE car SET id = ?1, vin = '', vin_tail = ''");
    const auto addCar = prepare("INSERT INTO vehicle SELECT * FROM car");
    const auto next = prepare("UPDATE one SET id = ?1, number = ?2, vehicle_id = ?3");
    const auto job = prepare("INSERT INTO job SELECT * FROM one");
    const auto line = prepare("INSERT INTO job_line VALUES (?1, 0, 'Drain oil'), (?1, 1, 'Set timing')");
    const auto reading = prepare("INSERT INTO odometer VALUES (?1, ?3, '2031-04-09', (SELECT odometer_in "
                                 "FROM one), 'job', NULL, ?2, NULL, 'in', 1)");
    const auto log =
        prepare("INSERT INTO change_log VALUES (?1, ?2, '', 'bay 1', 'insert', 'job', ?3, ?4, ?5, ?6)");
    const auto bind = [](const Prepared& statement, int at, const std::string& text) {
        sqlite3_bind_text(statement.get(), at, text.data(), static_cast<int>(text.size()), SQLITE_TRANSIENT);
    };
    const auto step = [](const Prepared& statement) {
        EXPECT_EQ(sqlite3_step(statement.get()), SQLITE_DONE)
            << sqlite3_errmsg(sqlite3_db_handle(statement.get()));
        sqlite3_reset(statement.get());
    };
    std::int64_t sequence = 0;
    std::string before;
    {
        const auto head = prepare("SELECT seq, hash FROM change_log ORDER BY seq DESC LIMIT 1");
        ASSERT_EQ(sqlite3_step(head.get()), SQLITE_ROW);
        sequence = sqlite3_column_int64(head.get(), 0);
        before = reinterpret_cast<const char*>(sqlite3_column_text(head.get(), 1));
    }
    int there = 0;
    {
        const auto newest = prepare("SELECT max(number) FROM job");
        ASSERT_EQ(sqlite3_step(newest.get()), SQLITE_ROW);
        there = sqlite3_column_int(newest.get(), 0);
    }
    std::string car;
    for (int i = there + 1; i <= count && !::testing::Test::HasFailure(); ++i) {
        if (car.empty() || i % 10 == 2) {
            car = core::toString(storage::makeUuid());
            bind(newCar, 1, car);
            step(newCar);
            step(addCar);
        }
        const std::string id = core::toString(storage::makeUuid());
        bind(next, 1, id);
        sqlite3_bind_int(next.get(), 2, i);
        bind(next, 3, car);
        step(next);
        step(job);
        bind(line, 1, id);
        step(line);
        bind(reading, 1, core::toString(storage::makeUuid()));
        bind(reading, 2, id);
        bind(reading, 3, car);
        step(reading);
        storage::StoredChange row{.sequence = std::to_string(++sequence),
                                  .at = "2031-05-01T10:42:07.125Z",
                                  .staff = {},
                                  .station = "bay 1",
                                  .action = "insert",
                                  .table = "job",
                                  .row = id,
                                  .fields = R"([{"a":"Rattles at a cold start, two seconds","f":"concern"}])",
                                  .before = before,
                                  .hash = {}};
        row.hash = storage::hashOf(row);
        sqlite3_bind_int64(log.get(), 1, sequence);
        bind(log, 2, row.at);
        bind(log, 3, row.row);
        bind(log, 4, row.fields);
        bind(log, 5, row.before);
        bind(log, 6, row.hash);
        step(log);
        before = row.hash;
    }
    run("UPDATE counter SET next = (SELECT max(number) + 1 FROM job)");
    run("COMMIT");
    sqlite3_close(handle);
}

} // namespace milehold::test
