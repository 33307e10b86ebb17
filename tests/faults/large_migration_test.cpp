// SPDX-License-Identifier: GPL-3.0-or-later
// A shop of many jobs under the oldest released schema is brought to today's: contents compared, killed again
// and again, and run a second time.
#include "storage/backup_shelf.h"
#include "storage/shop_open.h"
#include "tests/faults/children.h"
#include "tests/faults/many_jobs.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <QByteArray>

#include <chrono>
#include <fstream>
#include <iostream>
#include <random>

namespace milehold::test {

namespace {

using Clock = std::chrono::steady_clock;

double secondsSince(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

/// A closed shop that a program of the first schema wrote, its jobs copied to so many.
void makeOldShop(const fs::path& folder, int jobs) {
    fs::create_directories(folder / "store");
    std::ifstream packed(fs::path(MILEHOLD_SOURCE_DIR) / "tests/storage/fixtures/schema_0001.db.z",
                         std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(packed), std::istreambuf_iterator<char>()};
    const fs::path file = folder / "store" / "shop.db";
    std::ofstream(file, std::ios::binary) << qUncompress(QByteArray::fromStdString(bytes)).toStdString();
    multiplyJobs(file, jobs);
}

} // namespace

TEST(LargeMigration, IsWholeOrNotBegunHoweverOftenItIsKilled) {
    const int jobs = timesFrom("MILEHOLD_MIGRATED_JOBS", 1'500);
    const int kills = timesFrom("MILEHOLD_MIGRATION_KILLS", 8);
    const int seconds = timesFrom("MILEHOLD_MIGRATION_SECONDS", 20);
    const std::vector<std::string> kTables = {"customer", "vehicle",  "job",        "job_line", "job_part",
                                              "job_code", "odometer", "change_log", "counter"};
    const TemporaryFolder temporary;
    const fs::path model = temporary.path() / "Model.milehold";
    makeOldShop(model, jobs);
    if (HasFatalFailure())
        return;
    ASSERT_EQ(countInFile(model, "PRAGMA user_version"), 1);
    // Later schemas add columns at the end; what stood in the others stays.
    std::map<std::string, int> widths;
    for (const std::string& table : kTables)
        widths[table] = static_cast<int>(
            countInFile(model, ("SELECT count(*) FROM pragma_table_info('" + table + "')").c_str()));
    const std::string wanted = contentOf(model / "store" / "shop.db", kTables, widths);
    const auto today = storage::builtInMigrations("sqlite").value().back().version;

    const fs::path folder = temporary.path() / "Killed.milehold";
    const fs::path file = folder / "store" / "shop.db";
    const auto anew = [&] {
        fs::remove_all(folder);
        fs::copy(model, folder, fs::copy_options::recursive);
    };
    anew();
    auto start = Clock::now();
    {
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop);
        EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
        ASSERT_OK((*shop)->close());
    }
    const double whole = secondsSince(start);
    EXPECT_EQ(countInFile(folder, "PRAGMA user_version"), today);
    EXPECT_EQ(contentOf(file, kTables, widths), wanted) << "a migration changed what was stored";
    const auto before = storage::newestGoodBackup(folder);
    ASSERT_TRUE(before.has_value());
    // Opened again nothing is migrated a second time, and no further copy is made before it.
    const auto made = storage::listBackups(folder)->size();
    {
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop);
        ASSERT_OK((*shop)->close());
    }
    EXPECT_EQ(storage::listBackups(folder)->size(), made);
    EXPECT_EQ(countInFile(folder, "SELECT count(*) FROM schema_migration"), today);

    const auto seed = std::random_device()();
    std::mt19937_64 random(seed);
    int done = 0;
    int tried = 0;
    start = Clock::now();
    anew();
    for (; tried < kills && secondsSince(start) < seconds && !HasFailure(); ++tried) {
        SCOPED_TRACE("seed " + std::to_string(seed) + ", kill " + std::to_string(tried));
        const auto latest = static_cast<std::uint64_t>(whole * 1.1e6);
        killAfter(startChild({"--open", folder.string()}), std::chrono::microseconds(random() % latest));
        const auto version = countInFile(folder, "PRAGMA user_version"); // plays a journal back that was left
        // Each step is a transaction of its own.
        ASSERT_TRUE(version >= 1 && version <= today) << version;
        EXPECT_EQ(countInFile(folder, "SELECT count(*) FROM sqlite_schema WHERE name = 'given_quote'"),
                  version == 1 ? 0 : 1);
        EXPECT_EQ(countInFile(folder, "SELECT max(version) FROM schema_migration"), version);
        EXPECT_EQ(contentOf(file, kTables, widths), wanted);
        if (version < today) {
            fs::remove_all(folder / "backups"); // or each copy would stay
            continue;
        }
        ++done;
        EXPECT_TRUE(storage::newestGoodBackup(folder).has_value()) << "migrated without a verified copy";
        anew();
    }
    std::cout << jobs << " jobs of schema 1, brought to schema " << today << " in " << whole
              << " s with its backup; " << tried << " kills (seed " << seed << "): " << done << " done, "
              << tried - done << " not at the end, no step half, contents equal each time\n";
}

} // namespace milehold::test
