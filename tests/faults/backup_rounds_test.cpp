// SPDX-License-Identifier: GPL-3.0-or-later
// Many rounds of saving, backing up and restoring, and restores beside journals that belong to another state.
#include "storage/backup_shelf.h"
#include "tests/faults/children.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <sqlite3.h>

#include <algorithm>
#include <iostream>
#include <map>
#include <random>

namespace milehold::test {

namespace {

/// Leaves beside `database` the journal of a change to an older copy of it, as a program that was killed
/// would: a write-ahead log with pages of its own, or a rollback journal that would be played back.
void leaveJournal(const fs::path& older, const fs::path& database, bool wal) {
    sqlite3* handle = nullptr;
    ASSERT_EQ(sqlite3_open(older.c_str(), &handle), SQLITE_OK);
    const auto run = [&](const char* sql) {
        ASSERT_EQ(sqlite3_exec(handle, sql, nullptr, nullptr, nullptr), SQLITE_OK) << sqlite3_errmsg(handle);
    };
    run(wal ? "PRAGMA journal_mode = WAL" : "PRAGMA journal_mode = DELETE");
    run("PRAGMA wal_autocheckpoint = 0");
    run("PRAGMA cache_size = 1"); // pages leave the memory before the commit, so that the journal must be
                                  // synced
    run("BEGIN IMMEDIATE");
    run("UPDATE job SET concern = 'stale ' || concern");
    run("UPDATE vehicle SET note = 'stale ' || note");
    if (wal)
        run("COMMIT");
    const std::vector<const char*> endings =
        wal ? std::vector<const char*>{"-wal", "-shm"} : std::vector<const char*>{"-journal"};
    for (const char* ending : endings) {
        const auto from = fs::path(older) += ending;
        ASSERT_GT(fs::file_size(from), 0U);
        fs::copy_file(from, fs::path(database) += ending, fs::copy_options::overwrite_existing);
    }
    sqlite3_close(handle);
}

} // namespace

TEST(BackupRounds, EachRestoreBringsBackExactlyWhatWasBackedUp) {
    const int rounds = timesFrom("MILEHOLD_BACKUP_ROUNDS", 12);
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Rounds.milehold";
    const fs::path file = folder / "store" / "shop.db";
    const Bench bench = makeBenchShop(folder);
    const auto seed = std::random_device()();
    std::mt19937_64 random(seed);
    std::map<std::string, std::string> held; // the content of the shop by the backup that holds it
    const auto newest = [&] { return storage::listBackups(folder)->front(); };
    int equal = 0;
    for (int round = 0; round < rounds && !::testing::Test::HasFailure(); ++round) {
        SCOPED_TRACE("seed " + std::to_string(seed) + ", round " + std::to_string(round));
        {
            auto shop = storage::Shop::open(folder);
            ASSERT_OK(shop);
            const int jobs = 1 + static_cast<int>(random() % 4);
            for (int i = 0; i < jobs; ++i)
                ASSERT_OK((*shop)->jobs().save({benchJob(bench, round * 10 + i), {}, {}}));
            ASSERT_OK((*shop)->close()); // backs up what was saved
        }
        held[newest().folder.filename().string()] = contentOf(file);
        // Any of them, not only the newest.
        auto chosen = std::next(held.begin(), static_cast<std::ptrdiff_t>(random() % held.size()));
        const auto all = storage::listBackups(folder);
        ASSERT_OK(all);
        const auto backup = std::ranges::find_if(
            *all, [&](const auto& one) { return one.folder.filename().string() == chosen->first; });
        ASSERT_NE(backup, all->end()) << "rotated away within two days";
        const std::string before = contentOf(file);
        const std::string wanted = chosen->second;
        ASSERT_OK(storage::restoreBackup(folder, *backup));
        ASSERT_EQ(contentOf(file), wanted);
        // What was replaced is a backup too.
        const auto kept = newest();
        EXPECT_EQ(kept.reason, storage::BackupReason::BeforeRestore);
        ASSERT_EQ(contentOf(kept.folder / "shop.db"), before);
        ++equal;
    }
    auto shop = storage::Shop::open(folder);
    ASSERT_OK(shop);
    EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
    std::cout << rounds << " rounds of saves, a backup and a restore (seed " << seed << "): " << equal
              << " equal in every table\n";
}

TEST(BackupRounds, ARestoreBesideTheJournalOfAnotherStateIsClean) {
    const int rounds = timesFrom("MILEHOLD_STALE_ROUNDS", 8);
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Stale.milehold";
    const fs::path file = folder / "store" / "shop.db";
    const Bench bench = makeBenchShop(folder);
    const auto save = [&](int mark) {
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop);
        for (int i = 0; i < 20; ++i)
            ASSERT_OK((*shop)->jobs().save({benchJob(bench, mark + i), {}, {}}));
        ASSERT_OK((*shop)->close());
    };
    save(0);
    const fs::path older = temporary.path() / "older.db";
    int clean = 0;
    for (int round = 0; round < rounds; ++round) {
        SCOPED_TRACE("round " + std::to_string(round));
        fs::remove(older);
        fs::copy_file(file, older);
        save(100 * (round + 1));
        const auto backup = storage::listBackups(folder)->front();
        const std::string wanted = contentOf(backup.folder / "shop.db");
        save(100 * (round + 1) + 50);
        if (round % 4 >= 2)
            fs::remove(file); // the file itself is gone, and its journal is not
        leaveJournal(older, file, round % 2 == 0);
        if (HasFatalFailure())
            return;
        ASSERT_OK(storage::restoreBackup(folder, backup));
        EXPECT_FALSE(fs::exists(fs::path(file) += "-wal"));
        ASSERT_EQ(contentOf(file), wanted);
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop);
        EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
        ASSERT_OK((*shop)->close());
        ++clean;
    }
    std::cout << rounds << " restores beside a journal of another state: " << clean << " clean\n";
    EXPECT_EQ(clean, rounds);
}

} // namespace milehold::test
