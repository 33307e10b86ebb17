// SPDX-License-Identifier: GPL-3.0-or-later
// SQLite gets no memory, at each of its requests in turn, once and for good: no crash, no half record.
#include "storage/backup_shelf.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <sqlite3.h>

#include <iostream>

namespace milehold::test {

namespace {

sqlite3_mem_methods real; // NOLINT: SQLite's C interface leaves no other place for these
int left = 0;             // NOLINT: requests until one is refused; 0: none is
bool forGood = false;     // NOLINT
bool struck = false;      // NOLINT

bool refuses() {
    if (left == 0)
        return false;
    if (left > 1) {
        --left;
        return false;
    }
    if (!forGood)
        left = 0;
    struck = true;
    return true;
}

void* allocate(int bytes) {
    return refuses() ? nullptr : real.xMalloc(bytes);
}
void* reallocate(void* old, int bytes) {
    return refuses() ? nullptr : real.xRealloc(old, bytes);
}

/// Stands between SQLite and its memory; before any connection of this process.
class ScarceMemory {
public:
    ScarceMemory() {
        sqlite3_shutdown();
        sqlite3_config(SQLITE_CONFIG_GETMALLOC, &real);
        sqlite3_mem_methods between = real;
        between.xMalloc = allocate;
        between.xRealloc = reallocate;
        sqlite3_config(SQLITE_CONFIG_MALLOC, &between);
        // Without the small ready-made pieces every request comes here.
        sqlite3_config(SQLITE_CONFIG_LOOKASIDE, 0, 0);
        sqlite3_initialize();
    }
    ~ScarceMemory() {
        left = 0;
        sqlite3_shutdown();
        sqlite3_config(SQLITE_CONFIG_MALLOC, &real);
        sqlite3_initialize();
    }
    ScarceMemory(const ScarceMemory&) = delete;
    ScarceMemory& operator=(const ScarceMemory&) = delete;
};

void arm(int at, bool each) {
    left = at;
    forGood = each;
    struck = false;
}

} // namespace

TEST(OutOfMemory, ASaveIsWholeOrNotAtAll) {
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Scarce.milehold";
    const ScarceMemory memory;
    const Bench bench = makeBenchShop(folder);
    int points = 0;
    int refused = 0;
    int unknown = 0;
    std::int64_t mark = 0;
    std::int64_t saved = 0;
    constexpr int kMostPoints = 4'000;
    auto shop = storage::Shop::open(folder);
    ASSERT_OK(shop);
    for (const bool each : {false, true}) {
        // Every request at first, then further and further apart, so that the time is bounded.
        for (int at = 1; at <= kMostPoints; at += 1 + at / 60) {
            SCOPED_TRACE("request " + std::to_string(at) + (each ? " and all after it" : ""));
            const core::Job job = benchJob(bench, ++mark);
            arm(at, each);
            const auto outcome = (*shop)->jobs().save({job, {}, {}});
            const bool hit = struck;
            left = 0;
            if (!outcome) {
                ++refused;
                unknown += outcome.error().code == core::ErrorCode::OutcomeUnknown ? 1 : 0;
            }
            const auto found = (*shop)->jobs().find(job.id);
            EXPECT_TRUE(!outcome || found) << "told as saved, and not there";
            if (outcome || found)
                ++saved;
            else
                EXPECT_EQ(found.error().code, core::ErrorCode::NotFound) << found.error().detail;
            if (HasFailure())
                break;
            if (!hit)
                break;
            ++points;
        }
    }
    EXPECT_OK((*shop)->jobs().save({benchJob(bench, ++mark), {}, {}}))
        << "with memory again the book goes on";
    ++saved;
    EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
    shop->reset();
    EXPECT_EQ(countInFile(folder, "SELECT count(*) FROM job"), saved);
    EXPECT_EQ(countInFile(folder, "SELECT count(*) FROM job_line"), saved * kLinesAJob);
    EXPECT_EQ(countInFile(folder, "SELECT count(*) FROM job_part"), saved * kPartsAJob);
    EXPECT_EQ(countInFile(folder, "SELECT count(*) FROM odometer"), saved * kReadingsAJob);
    std::cout << "no memory: " << points << " points, " << refused << " saves refused, " << unknown
              << " told as unknown; 0 crashes, 0 half jobs\n";
    EXPECT_GT(points, 100);
}

TEST(OutOfMemory, AnOpeningOrABackupFailsWithAnErrorOrSucceeds) {
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Scarce.milehold";
    const ScarceMemory memory;
    makeBenchShop(folder);
    int points = 0;
    int failed = 0;
    for (const bool each : {false, true}) {
        for (int at = 1; at <= 20'000; at += 1 + at / 12) {
            arm(at, each);
            bool worked = false;
            {
                auto shop = storage::Shop::open(folder);
                worked = shop && (*shop)->backUp(storage::BackupReason::OnDemand);
            }
            const bool hit = struck;
            left = 0;
            failed += worked ? 0 : 1;
            if (!hit)
                break;
            ++points;
        }
    }
    auto shop = storage::Shop::open(folder);
    ASSERT_OK(shop);
    EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
    const auto backups = (*shop)->backups();
    ASSERT_OK(backups);
    for (const auto& backup : *backups)
        EXPECT_OK(storage::verifyBackup(backup));
    std::cout << "no memory at an opening and its backup: " << points << " points, " << failed
              << " ended with an error, 0 crashes, every backup verifies\n";
    EXPECT_GT(points, 30);
    EXPECT_GT(failed, 0);
}

} // namespace milehold::test
