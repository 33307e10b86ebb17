// SPDX-License-Identifier: GPL-3.0-or-later
// A program that is killed loses no job that it has shown as saved, and leaves none half saved.
#include "storage/backup_shelf.h"
#include "storage/shop_open.h"
#include "tests/faults/children.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <chrono>
#include <iostream>
#include <random>
#include <sstream>
#include <string>
#include <vector>

namespace milehold::test {

TEST(KilledProgram, LosesNoJobThatItHasShownAsSavedAndLeavesNoneHalf) {
    const int cycles = timesFrom("MILEHOLD_KILLS", 100);
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Killed.milehold";
    makeBenchShop(folder);
    const auto seed = std::random_device()();
    std::mt19937_64 random(seed);
    std::vector<std::pair<std::int64_t, core::JobId>> acknowledged;
    std::chrono::duration<double> slowest{};
    int hotJournals = 0;
    int broken = 0;
    for (int cycle = 0; cycle < cycles; ++cycle) {
        const auto said =
            killAfter(startChild({"--save", folder.string()}), std::chrono::microseconds(random() % 30'000));
        std::istringstream lines(said.substr(0, said.rfind('\n') + 1));
        std::int64_t number = 0;
        std::string id;
        while (lines >> number >> id)
            acknowledged.emplace_back(number, core::JobId{core::uuidFromString(id).value()});
        std::error_code none;
        const auto journal = fs::file_size(folder / "store" / "shop.db-journal", none);
        hotJournals += !none && journal > 0 ? 1 : 0;

        const auto start = std::chrono::steady_clock::now();
        auto shop = storage::Shop::open(folder); // checks in full, as it was never closed
        slowest = std::max<std::chrono::duration<double>>(slowest, std::chrono::steady_clock::now() - start);
        if (!shop) {
            ++broken;
            ADD_FAILURE() << "seed " << seed << ", cycle " << cycle << ": " << shop.error().detail;
            break;
        }
        const auto job = (*shop)->jobs().find(acknowledged.back().second);
        EXPECT_TRUE(job.has_value());
        if (job) {
            EXPECT_EQ(job->number, acknowledged.back().first);
        }
        EXPECT_OK((*shop)->drafts().find("job"));
    }
    ASSERT_EQ(broken, 0);
    int lost = 0;
    {
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop);
        for (const auto& [number, id] : acknowledged) {
            const auto job = (*shop)->jobs().find(id);
            lost += job && job->number == number && job->lines.size() == 2 && job->parts.size() == 2 ? 0 : 1;
        }
        EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
        ASSERT_OK((*shop)->close());
    }
    const auto jobs = countInFile(folder, "SELECT count(*) FROM job");
    const auto half = std::abs(countInFile(folder, "SELECT count(*) FROM job_line") - jobs * kLinesAJob) +
                      std::abs(countInFile(folder, "SELECT count(*) FROM job_part") - jobs * kPartsAJob) +
                      std::abs(countInFile(folder, "SELECT count(*) FROM job_code") - jobs * kCodesAJob) +
                      std::abs(countInFile(folder, "SELECT count(*) FROM odometer") - jobs * kReadingsAJob);
    std::cout << cycles << " kills (seed " << seed << "): " << acknowledged.size() << " jobs acknowledged, "
              << lost << " lost, " << half << " rows of half jobs, " << hotJournals
              << " kills inside a commit, slowest open with the full check " << slowest.count() << " s\n";
    EXPECT_EQ(lost, 0);
    EXPECT_EQ(half, 0);
    EXPECT_GE(jobs, static_cast<std::int64_t>(acknowledged.size()));
    EXPECT_EQ(countInFile(folder, "SELECT max(number) FROM job"), jobs) << "numbers without gaps";
}

TEST(KilledProgram, LeavesOnlyWholeBackupsBehind) {
    const int cycles = timesFrom("MILEHOLD_KILLS", 40);
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Killed.milehold";
    makeBenchShop(folder);
    const auto seed = std::random_device()();
    std::mt19937_64 random(seed);
    std::size_t listed = 0;
    int halfMade = 0;
    for (int cycle = 0; cycle < cycles; ++cycle) {
        killAfter(startChild({"--backup", folder.string()}), std::chrono::microseconds(random() % 30'000));
        for (const auto& entry : fs::directory_iterator(folder / "backups"))
            halfMade += entry.path().filename().string().starts_with("tmp-") ? 1 : 0;
        const auto backups = storage::listBackups(folder);
        ASSERT_OK(backups);
        listed = backups->size();
        // The newest are those that a kill could have met.
        for (std::size_t i = 0; i < std::min<std::size_t>(3, listed); ++i)
            ASSERT_TRUE(storage::verifyBackup((*backups)[i]).has_value())
                << "seed " << seed << ", cycle " << cycle;
    }
    auto shop = storage::Shop::open(folder);
    ASSERT_OK(shop);
    EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
    const auto before = (*shop)->jobs().rows({.limit = 100'000});
    ASSERT_OK(before);
    // The newest backup brings back what the shop held when it was made.
    const auto newest = storage::newestGoodBackup(folder);
    ASSERT_TRUE(newest.has_value());
    EXPECT_LE(newest->jobs(), static_cast<std::int64_t>(before->size()));
    shop->reset();
    ASSERT_OK(storage::restoreBackup(folder, *newest));
    EXPECT_EQ(countInFile(folder, "SELECT count(*) FROM job"), newest->jobs());
    std::cout << cycles << " kills during backups (seed " << seed << "): " << listed << " backups listed, "
              << halfMade << " half made and passed over, 0 that do not verify\n";
}

TEST(KilledProgram, LeavesAMigrationDoneOrNotBegun) {
    const int cycles = timesFrom("MILEHOLD_KILLS", 40);
    const TemporaryFolder temporary;
    const fs::path model = temporary.path() / "Model.milehold";
    makeBenchShop(model);
    const fs::path folder = temporary.path() / "Killed.milehold";
    const auto released = countInFile(model, "PRAGMA user_version");
    const auto seed = std::random_device()();
    std::mt19937_64 random(seed);
    int done = 0;
    for (int cycle = 0; cycle < cycles; ++cycle) {
        fs::remove_all(folder);
        fs::copy(model, folder, fs::copy_options::recursive);
        killAfter(startChild({"--migrate", folder.string()}), std::chrono::microseconds(random() % 150'000));
        const auto version = countInFile(folder, "PRAGMA user_version");
        ASSERT_TRUE(version == released || version == released + 1) << version;
        const bool isNew = version == released + 1;
        done += isNew ? 1 : 0;
        ASSERT_EQ(countInFile(folder, "SELECT count(*) FROM sqlite_schema WHERE name = 'tool'"),
                  isNew ? 1 : 0);
        ASSERT_EQ(countInFile(folder, "SELECT count(*) FROM vehicle WHERE note = 'migrated'"), isNew ? 1 : 0);
        if (isNew) {
            EXPECT_TRUE(storage::newestGoodBackup(folder).has_value());
            EXPECT_FAILS(storage::Shop::open(folder), core::ErrorCode::TooNew);
        } else {
            EXPECT_OK(storage::Shop::open(folder));
        }
    }
    std::cout << cycles << " kills during a migration (seed " << seed << "): " << done << " done, "
              << cycles - done << " not begun, 0 half\n";
}

} // namespace milehold::test
