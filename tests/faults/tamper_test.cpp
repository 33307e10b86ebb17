// SPDX-License-Identifier: GPL-3.0-or-later
// Somebody with the file and a database tool changes the change log: it is found wherever it is done.
#include "storage/backup_shelf.h"
#include "storage/change_log.h"
#include "storage/database/sqlite_connection.h"
#include "storage/database/sqlite_handle.h"
#include "storage/machine_clock.h"
#include "storage/shop_open.h"
#include "tests/faults/children.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <sqlite3.h>

#include <iostream>
#include <random>

namespace milehold::test {

namespace {

std::string sqlOf(int kind, std::int64_t seq, std::int64_t other, std::mt19937_64& random) {
    const std::string at = " WHERE seq = " + std::to_string(seq);
    static const char* const kColumns[] = {"at",     "staff_id", "station",     "action", "table_name",
                                           "row_id", "fields",   "hash_before", "hash"};
    switch (kind) {
    case 0: // edited: another letter somewhere in a field
    {
        const std::string column = kColumns[random() % std::size(kColumns)];
        if (column == "action")
            return "UPDATE change_log SET action = CASE action WHEN 'insert' THEN 'delete' ELSE 'insert' "
                   "END" +
                   at;
        if (column == "hash" || column == "hash_before")
            return "UPDATE change_log SET " + column + " = substr(" + column + ", 2) || 'g'" + at;
        return "UPDATE change_log SET " + column + " = " + column + " || ' '" + at;
    }
    case 1: // taken out
        return "DELETE FROM change_value" + at + "; DELETE FROM change_log" + at;
    case 2: // put in: the row again under a number that is free
        return "INSERT INTO change_log SELECT (SELECT max(seq) FROM change_log) + 1, at, staff_id, station, "
               "action, "
               "table_name, row_id, fields, hash_before, hash FROM change_log" +
               at;
    case 3: // swapped
        return "UPDATE change_log SET seq = 1000000" + at +
               "; UPDATE change_log SET seq = " + std::to_string(seq) +
               " WHERE seq = " + std::to_string(other) +
               "; UPDATE change_log SET seq = " + std::to_string(other) + " WHERE seq = 1000000";
    case 4: // played again in place of a later one
        return "CREATE TEMP TABLE again AS SELECT * FROM change_log" + at +
               "; DELETE FROM change_log WHERE seq = " + std::to_string(other) +
               "; UPDATE again SET seq = " + std::to_string(other) +
               "; INSERT INTO change_log SELECT * FROM again; DROP TABLE again";
    case 5: // a kept personal value
        return "UPDATE change_value SET after = coalesce(after, '') || 'x', before = coalesce(before, '') || "
               "'x' "
               "WHERE seq = (SELECT seq FROM change_value LIMIT 1 OFFSET " +
               std::to_string(seq) + " % (SELECT count(*) FROM change_value))";
    default: // cut off at the end: only the anchor outside can tell
        return "DELETE FROM change_value WHERE seq >= " + std::to_string(seq) +
               "; DELETE FROM change_log WHERE seq >= " + std::to_string(seq);
    }
}

constexpr int kKinds = 7;

} // namespace

TEST(TamperedLog, IsFoundAtEachOfAThousandPlaces) {
    const int all = timesFrom("MILEHOLD_TAMPERINGS", 1'000);
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Tampered.milehold";
    const Bench bench = makeBenchShop(folder);
    storage::ChainHead anchor;
    {
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop);
        for (int mark = 0; mark < 15; ++mark) {
            ASSERT_OK((*shop)->jobs().save({benchJob(bench, mark), {}, {}}));
            core::Customer customer = someCustomer();
            customer.name += " " + std::to_string(mark);
            ASSERT_OK((*shop)->customers().save(customer));
        }
        ASSERT_OK((*shop)->close());
        const auto backup = storage::newestGoodBackup(folder).value();
        anchor = {backup.chainSequence, backup.chainHash};
    }
    storage::Session session(
        [&] { return storage::openSqlite(folder / "store" / "shop.db", storage::Access::Write); },
        [] { return storage::machineNow(); }, false);
    ASSERT_OK(session.connect());
    const storage::ChangeLog log(session);
    EXPECT_HOLDS(log.firstBroken(), std::optional<std::int64_t>());
    EXPECT_HOLDS(log.head(), anchor);
    sqlite3* const handle = storage::sqliteHandle(session.database());
    ASSERT_NE(handle, nullptr);
    const auto run = [&](const std::string& sql) {
        char* problem = nullptr;
        EXPECT_EQ(sqlite3_exec(handle, sql.c_str(), nullptr, nullptr, &problem), SQLITE_OK) << sql << problem;
        sqlite3_free(problem);
    };
    // As it stands the log refuses all of it, whoever asks (triggers of the schema).
    for (const char* sql :
         {"UPDATE change_log SET station = 'x' WHERE seq = 3", "DELETE FROM change_log WHERE seq = 3",
          "INSERT OR REPLACE INTO change_log SELECT * FROM change_log WHERE seq = 3"})
        EXPECT_EQ(sqlite3_exec(handle, sql, nullptr, nullptr, nullptr) & 0xff, SQLITE_CONSTRAINT) << sql;
    std::mt19937_64 random(20310509); // NOLINT: a fixed seed is the point
    int found = 0;
    int foundByAnchor = 0;
    run("PRAGMA foreign_keys = OFF");
    for (int i = 0; i < all; ++i) {
        const int kind = i % kKinds;
        const auto seq =
            1 + static_cast<std::int64_t>(random() % static_cast<std::uint64_t>(anchor.sequence));
        auto other = 1 + static_cast<std::int64_t>(random() % static_cast<std::uint64_t>(anchor.sequence));
        other = other == seq ? seq % anchor.sequence + 1 : other;
        const std::string sql = sqlOf(kind, seq, other, random);
        SCOPED_TRACE(sql);
        run("BEGIN IMMEDIATE; DROP TRIGGER change_log_no_update; DROP TRIGGER change_log_no_delete; "
            "DROP TRIGGER change_log_only_appends");
        run(sql);
        const auto broken = log.firstBroken();
        EXPECT_OK(broken);
        if (broken && *broken) {
            ++found;
        } else {
            const auto head = log.head();
            EXPECT_OK(head);
            const bool differs = head && *head != anchor;
            EXPECT_TRUE(differs);
            foundByAnchor += differs ? 1 : 0;
        }
        run("ROLLBACK");
        if (HasFailure())
            break;
    }
    EXPECT_HOLDS(log.firstBroken(), std::optional<std::int64_t>());
    std::cout << all << " tamperings of " << kKinds << " kinds in a log of " << anchor.sequence
              << " rows: " << found << " found by the chain, " << foundByAnchor
              << " by the anchor in the backup's manifest, " << all - found - foundByAnchor << " not found\n";
    EXPECT_EQ(found + foundByAnchor, all);
    EXPECT_GT(foundByAnchor, 0);
}

} // namespace milehold::test
