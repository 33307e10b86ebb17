// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/backup.h"
#include "storage/database/migrations.h"
#include "storage/files/backup_writer.h"
#include "storage/files/durable.h"
#include "storage/files/manifest.h"
#include "tests/storage/support/shop_fixture.h"

#include <gmock/gmock.h>

#include <fstream>
#include <random>

namespace milehold::test {

using core::ErrorCode;
using storage::BackupInfo;
using storage::BackupReason;

class Backups : public ShopTest {
protected:
    static void flipABit(const fs::path& file, std::uint64_t at) {
        std::fstream bytes(file, std::ios::in | std::ios::out | std::ios::binary);
        bytes.seekg(static_cast<std::streamoff>(at));
        const int byte = bytes.get();
        bytes.seekp(static_cast<std::streamoff>(at));
        bytes.put(static_cast<char>(byte ^ 0x10));
    }
};

TEST_F(Backups, ABackupIsVerifiedAndSaysWhatItHolds) {
    const core::Job job = saved(finishedJob());
    const auto made = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(made);
    EXPECT_EQ(made->jobs(), 1);
    EXPECT_EQ(made->rows.at("customer"), 1);
    EXPECT_EQ(made->schema, static_cast<std::int64_t>(storage::builtInMigrations("sqlite")->size()));
    EXPECT_EQ(made->at, now);
    EXPECT_EQ(made->warning, "");
    EXPECT_EQ(made->bytes, fs::file_size(made->folder / "shop.db"));
    EXPECT_EQ(made->chainHash, shop().changeLog().head()->hash);
    EXPECT_OK(storage::verifyBackup(*made));
    EXPECT_HOLDS(shop().backups(), std::vector{*made});
    EXPECT_HOLDS(shop().lastBackup(), std::optional(*made));
    EXPECT_FALSE(shop().changedSinceBackup());
    saved(finishedJob(day(2031, 4, 10), 51'000));
    EXPECT_TRUE(shop().changedSinceBackup());
}

TEST_F(Backups, CloseMakesOneOnlyWhenSomethingWasSaved) {
    ASSERT_OK(shop().close());
    EXPECT_EQ(storage::listBackups(folder())->size(), 1U);
    EXPECT_EQ(storage::listBackups(folder())->front().reason, BackupReason::Close);
    reopen();
    EXPECT_FALSE(shop().changedSinceBackup());
    ASSERT_OK(shop().close());
    EXPECT_EQ(storage::listBackups(folder())->size(), 1U);
    reopen();
    now += std::chrono::seconds(1);
    saved(finishedJob());
    ASSERT_OK(shop().close());
    EXPECT_EQ(storage::listBackups(folder())->size(), 2U);
}

TEST_F(Backups, TwentyRoundsOfBackupAndRestoreBringEachStateBack) {
    std::mt19937 random(20310509); // NOLINT: a fixed seed is the point
    std::vector<std::pair<BackupInfo, std::vector<storage::JobRow>>> states;
    for (int round = 0; round < 20; ++round) {
        now += std::chrono::minutes(10);
        saved(finishedJob(core::addDays(day(2031, 1, 1), round), 50'000 + 100 * round));
        auto made = shop().backUp(BackupReason::OnDemand);
        ASSERT_OK(made);
        states.emplace_back(*made, shop().jobs().rows({}).value());
        saved(finishedJob(core::addDays(day(2031, 1, 1), round), 50'050 + 100 * round));
        const auto& [backup, rows] = states[random() % states.size()];
        letGo();
        const auto kept = storage::restoreBackup(folder(), backup);
        ASSERT_OK(kept);
        EXPECT_TRUE(fs::exists(*kept / "shop.db"));
        reopen();
        EXPECT_HOLDS(shop().jobs().rows({}), rows);
        EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
    }
}

TEST_F(Backups, ARestoreKeepsWhatItReplacesAsABackupToo) {
    const auto early = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(early);
    const core::Job job = saved(finishedJob());
    letGo();
    ASSERT_OK(storage::restoreBackup(folder(), *early));
    reopen();
    EXPECT_TRUE(shop().jobs().rows({})->empty());
    const auto backups = shop().backups();
    ASSERT_OK(backups);
    const auto kept = std::ranges::find(*backups, BackupReason::BeforeRestore, &BackupInfo::reason);
    ASSERT_NE(kept, backups->end());
    letGo();
    ASSERT_OK(storage::restoreBackup(folder(), *kept));
    reopen();
    EXPECT_HOLDS(shop().jobs().find(job.id), job);
}

TEST_F(Backups, ARestoreIsCleanBesideLeftOverJournals) {
    const auto backup = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(backup);
    for (int round = 0; round < 50; ++round) {
        letGo();
        // A journal of another life of the file; played back into the restored one it would ruin it.
        for (const char* ending : {"-journal", "-wal", "-shm"})
            std::ofstream(fs::path(database()) += ending, std::ios::binary)
                << std::string("\xd9\xd5\x05\xf9\x20\xa1\x63\xd7", 8) << std::string(4000 + round, 'x');
        const auto kept = storage::restoreBackup(folder(), *backup);
        ASSERT_OK(kept);
        EXPECT_FALSE(fs::exists(fs::path(database()) += "-wal"));
        reopen();
        ASSERT_TRUE(shop().verify(storage::CheckDepth::Full)->sound()) << round;
    }
    EXPECT_HOLDS(shop().customers().find(customer.id), customer);
}

TEST_F(Backups, ARestoreOfAShopThatIsOpenIsRefused) {
    const auto backup = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(backup);
    EXPECT_FAILS(storage::restoreBackup(folder(), *backup), ErrorCode::InUse);
}

TEST_F(Backups, EveryFlippedBitAndEveryCutIsFoundByTheManifest) {
    saved(finishedJob());
    const auto backup = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(backup);
    const fs::path file = backup->folder / "shop.db";
    std::mt19937_64 random(3); // NOLINT: a fixed seed is the point
    for (int i = 0; i < 200; ++i) {
        const auto at = random() % backup->bytes;
        flipABit(file, at);
        EXPECT_FAILS(storage::verifyBackup(*backup), ErrorCode::Unreadable);
        flipABit(file, at);
    }
    EXPECT_OK(storage::verifyBackup(*backup));
    letGo();
    flipABit(file, backup->bytes / 2);
    EXPECT_FAILS(storage::restoreBackup(folder(), *backup), ErrorCode::Unreadable);
    reopen(); // nothing was touched
    letGo();
    flipABit(file, backup->bytes / 2);
    for (const std::uint64_t size :
         {std::uint64_t{0}, std::uint64_t{1}, backup->bytes / 2, backup->bytes - 1}) {
        fs::resize_file(file, size);
        EXPECT_FAILS(storage::verifyBackup(*backup), ErrorCode::Unreadable);
    }
    fs::remove(file);
    EXPECT_FAILS(storage::verifyBackup(*backup), ErrorCode::Unreadable);
}

TEST_F(Backups, ABackupCanBeBrowsedWhileTheShopIsOpenAndNeverWritten) {
    const core::Job job = saved(finishedJob());
    const auto backup = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(backup);
    auto browsed = storage::Shop::browse(*backup);
    ASSERT_OK(browsed);
    EXPECT_TRUE((*browsed)->readOnly());
    EXPECT_HOLDS((*browsed)->jobs().find(job.id), job);
    EXPECT_FAILS((*browsed)->customers().save(customer), ErrorCode::ReadOnly);
    EXPECT_FAILS((*browsed)->drafts().keep("job", "x"), ErrorCode::ReadOnly);
    EXPECT_FAILS((*browsed)->backUp(BackupReason::OnDemand), ErrorCode::ReadOnly);
    EXPECT_OK((*browsed)->close());
    EXPECT_OK(storage::verifyBackup(*backup));
}

TEST_F(Backups, AnUnfinishedCopyIsNeverListedAndGoesWithTheNext) {
    const fs::path left = folder() / "backups" / "tmp-0f6b4c7e";
    fs::create_directories(left);
    std::ofstream(left / "shop.db") << "half";
    fs::create_directories(folder() / "backups" / "2031-01-01T000000Z-close");
    EXPECT_TRUE(shop().backups()->empty());
    ASSERT_OK(shop().backUp(BackupReason::OnDemand));
    EXPECT_FALSE(fs::exists(left));
    EXPECT_EQ(shop().backups()->size(), 1U);
}

TEST(BackupManifest, ReadsWhatItWrites) {
    BackupInfo backup;
    backup.at = core::momentFromIso("2031-05-01T10:42:07.125Z").value();
    backup.reason = BackupReason::BeforeMigration;
    backup.schema = 3;
    backup.bytes = 9'007'199'254'740'993; // above what a double holds exactly
    backup.sha256 = std::string(64, 'a');
    backup.rows = {{"job", 9'007'199'254'740'993}, {"vehicle", 0}};
    backup.chainSequence = 17;
    backup.chainHash = std::string(64, 'b');
    backup.warning = "the shop holds no job any more";
    const auto read = storage::backupFromJson(storage::toJson(backup));
    ASSERT_OK(read);
    EXPECT_EQ(*read, backup);
    const std::string text = storage::toJson(backup);
    for (std::size_t cut = 0; cut + 2 < text.size(); ++cut)
        EXPECT_FAILS(storage::backupFromJson(text.substr(0, cut)), ErrorCode::Unreadable);
    EXPECT_FAILS(storage::backupFromJson("[]"), ErrorCode::Unreadable);
}

BackupInfo madeAt(core::Moment at, BackupReason reason = BackupReason::Close) {
    BackupInfo backup;
    backup.at = at;
    backup.reason = reason;
    backup.folder = storage::stamp(at);
    return backup;
}

TEST(BackupRotation, KeepsThePromisedSetOverThreeYears) {
    using namespace std::chrono;
    const core::Moment start = core::momentFromIso("2028-01-03T17:00:00.000Z").value();
    std::vector<BackupInfo> kept; // newest first
    core::Moment now = start;
    for (int i = 0; i < 3 * 365 * 3; ++i) { // three a day
        now = start + hours(8) * i;
        kept.insert(kept.begin(),
                    madeAt(now, i == 3000 ? BackupReason::BeforeMigration : BackupReason::Close));
        for (const auto& old : storage::outdated(kept, now))
            std::erase(kept, old);
    }
    const auto within = [&](auto span) {
        return std::ranges::count_if(kept, [&](const auto& one) { return now - one.at <= span; });
    };
    EXPECT_EQ(within(hours(48)), 7); // every eight hours, both ends
    const auto daysKept = [&] {
        std::set<std::int64_t> all;
        for (const auto& one : kept)
            all.insert(floor<days>(one.at).time_since_epoch().count());
        return all;
    }();
    const auto today = floor<days>(now).time_since_epoch().count();
    for (std::int64_t ago = 0; ago < 14; ++ago)
        EXPECT_TRUE(daysKept.contains(today - ago)) << ago;
    for (int week = 0; week < 8; ++week) {
        const bool any = std::ranges::any_of(kept, [&](const auto& one) {
            return (floor<days>(one.at).time_since_epoch().count() + 3) / 7 == (today + 3) / 7 - week;
        });
        EXPECT_TRUE(any) << week;
    }
    std::set<std::pair<int, unsigned>> months;
    for (const auto& one : kept) {
        const year_month_day date(floor<days>(one.at));
        months.emplace(int(date.year()), unsigned(date.month()));
    }
    EXPECT_GE(months.size(), 24U);
    EXPECT_LE(kept.size(), 7U + 14U + 8U + 24U + 1U);
    EXPECT_TRUE(std::ranges::any_of(
        kept, [](const auto& one) { return one.reason == BackupReason::BeforeMigration; }));
}

TEST(BackupRotation, KeepsNoCopyOfARestingShopBeyondTwoYearsButTheLastThree) {
    using namespace std::chrono;
    const core::Moment now = core::momentFromIso("2038-01-03T17:00:00.000Z").value();
    std::vector<BackupInfo> kept;
    for (int month = 20; month < 40; ++month) // nothing was saved for twenty months
        kept.push_back(madeAt(now - days(30) * month));
    for (const auto& old : storage::outdated(kept, now))
        std::erase(kept, old);
    EXPECT_EQ(kept.size(), 5U) << "months 20 to 24";
    for (auto& one : kept)
        one.at -= days(3000);
    for (const auto& old : storage::outdated(kept, now))
        std::erase(kept, old);
    EXPECT_EQ(kept.size(), 3U);
}

TEST(BackupRotation, NeverLeavesFewerThanThree) {
    using namespace std::chrono;
    const core::Moment now = core::momentFromIso("2038-01-03T17:00:00.000Z").value();
    std::vector<BackupInfo> old;
    for (int i = 0; i < 5; ++i)
        old.push_back(madeAt(now - days(3000) - hours(i)));
    EXPECT_EQ(storage::outdated(old, now).size(), 2U);
    old.front().warning = "the shop holds no job any more";
    EXPECT_TRUE(storage::outdated(old, now).empty()) << "an alarm stops the rotation";
}

} // namespace milehold::test
