// SPDX-License-Identifier: GPL-3.0-or-later
// What keeps a shop safe between two saves: the weekly check, copies on another disk, trial restores, free
// space.
#include "storage/attachment_store.h"
#include "storage/backup_shelf.h"
#include "storage/disk_room.h"
#include "storage/off_machine.h"
#include "storage/shop_care.h"
#include "tests/storage/support/shop_fixture.h"

#include <gmock/gmock.h>

#include <fstream>

namespace milehold::test {

using core::ErrorCode;
using storage::BackupReason;
using storage::RoomLevel;

namespace {

using namespace std::chrono_literals;

void flipABit(const fs::path& file, std::streamoff at) {
    std::fstream bytes(file, std::ios::in | std::ios::out | std::ios::binary);
    bytes.seekg(at);
    const int byte = bytes.get();
    bytes.seekp(at);
    bytes.put(static_cast<char>(byte ^ 0x10));
}

} // namespace

class ShopCareTest : public ShopTest {
protected:
    fs::path stick() const { return folder().parent_path() / "stick"; }
    core::Result<core::Attachment> aPhoto() {
        const core::Job job = saved(finishedJob());
        const fs::path file = folder().parent_path() / "lock pin.png";
        std::ofstream(file, std::ios::binary) << "\x89PNG\r\n\x1a\n and what it shows";
        return storage::attachmentsOf(shop()).add(job.id, file, "lock pin.png");
    }
};

TEST_F(ShopCareTest, IsReadAsItWasWrittenAndABrokenNoteIsSaid) {
    storage::ShopCare care;
    care.fullCheck = now;
    care.testRestore = now - 24h;
    care.offMachineFolder = "/media/Größe stick";
    ASSERT_OK(storage::writeCare(folder(), care));
    EXPECT_HOLDS(storage::readCare(folder()), care);
    std::ofstream(folder() / "care.json") << "{\"full_check\": [1,";
    EXPECT_FAILS(storage::readCare(folder()), ErrorCode::Unreadable); // and not: nobody chose a place
}

TEST_F(ShopCareTest, IsDueAfterItsTimeOrWhenTheClockWasPutBack) {
    EXPECT_TRUE(storage::isDue(std::nullopt, now, 168h));
    EXPECT_FALSE(storage::isDue(now - 167h, now, 168h));
    EXPECT_TRUE(storage::isDue(now - 168h, now, 168h));
    EXPECT_TRUE(storage::isDue(now + 1h, now, 168h));
}

TEST_F(ShopCareTest, AShopIsCheckedInFullWeeklyEvenWhenItWasClosedWell) {
    saved(finishedJob());
    ASSERT_OK(shop().close());
    letGo();
    // Structurally sound, so that only the full check sees it.
    runOnFile("UPDATE job SET odometer_in = odometer_in - 1;");
    now += 24h * 6;
    reopen();
    ASSERT_OK(shop().close());
    now += 24h;
    const auto opened = tryOpen();
    EXPECT_FAILS(opened, ErrorCode::Unreadable);
    EXPECT_THAT(opened.error().detail, ::testing::HasSubstr("weekly"));
    runOnFile("UPDATE job SET odometer_in = odometer_in + 1;");
    reopen();
    EXPECT_EQ(storage::readCare(folder())->fullCheck, now);
}

TEST_F(ShopCareTest, ACopyOnAnotherDiskIsVerifiedAndNoted) {
    saved(finishedJob());
    const auto backup = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(backup);
    EXPECT_FAILS(storage::copyOffMachine(folder(), *backup, stick(), now), ErrorCode::NotFound);
    EXPECT_FAILS(storage::copyOffMachine(folder(), *backup, folder() / "logs", now), ErrorCode::InvalidInput);
    fs::create_directory(stick());
    const auto copy = storage::copyOffMachine(folder(), *backup, stick(), now);
    ASSERT_OK(copy);
    EXPECT_EQ(copy->folder, stick() / "Riverside" / backup->folder.filename());
    EXPECT_TRUE(copy->sameDisk); // both lie in the test's own folder
    const auto listed = storage::listBackupsIn(stick() / "Riverside");
    ASSERT_OK(listed);
    ASSERT_EQ(listed->size(), 1U);
    EXPECT_OK(storage::verifyBackup(listed->front()));
    EXPECT_EQ(storage::readCare(folder())->offMachine, now);
    EXPECT_EQ(storage::readCare(folder())->offMachineFolder, stick().string());
    EXPECT_OK(storage::copyOffMachine(folder(), *backup, stick(), now)); // there already
    flipABit(copy->folder / "shop.db", 5000);
    EXPECT_FAILS(storage::copyOffMachine(folder(), *backup, stick(), now), ErrorCode::Unreadable);
}

TEST_F(ShopCareTest, ADamagedBackupIsNeverCopiedAway) {
    const auto backup = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(backup);
    fs::create_directory(stick());
    flipABit(backup->folder / "shop.db", 5000);
    EXPECT_FAILS(storage::copyOffMachine(folder(), *backup, stick(), now), ErrorCode::Unreadable);
    EXPECT_FALSE(fs::exists(stick() / "Riverside"));
    EXPECT_FALSE(storage::readCare(folder())->offMachine.has_value());
}

TEST_F(ShopCareTest, ACopyCarriesThePhotosThatItsRecordsNameAndDropsThemWithIt) {
    const auto photo = aPhoto();
    ASSERT_OK(photo);
    const auto backup = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(backup);
    fs::create_directory(stick());
    ASSERT_OK(storage::copyOffMachine(folder(), *backup, stick(), now));
    letGo();
    fs::remove_all(folder());
    const auto listed = storage::listBackupsIn(stick() / "Riverside");
    ASSERT_OK(listed);
    ASSERT_OK(storage::restoreBackup(folder(), listed->front()));
    reopen();
    EXPECT_OK(storage::attachmentsOf(shop()).copyToRead(photo->id, folder().parent_path()));
}

TEST_F(ShopCareTest, AFileIsKeptWhileABackupCannotSayWhatItNames) {
    const auto photo = aPhoto();
    ASSERT_OK(photo);
    const auto backup = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(backup);
    const auto copies = folder() / "backups" / "attachments";
    const auto kept = [&] {
        return std::distance(fs::recursive_directory_iterator(copies), fs::recursive_directory_iterator());
    };
    const auto before = kept();
    ASSERT_GT(before, 0);
    std::ofstream(backup->folder / "manifest.json") << "{";
    EXPECT_HOLDS(storage::unreadableBackupsIn(folder() / "backups"), std::vector{backup->folder});
    ASSERT_OK(storage::attachmentsOf(shop()).remove(photo->id));
    ASSERT_OK(shop().backUp(BackupReason::OnDemand)); // sweeps what its backups do not name
    EXPECT_EQ(kept(), before);
}

TEST_F(ShopCareTest, ACopyBringsTheShopBackOnAMachineThatHasNothingOfIt) {
    const core::Job job = saved(finishedJob());
    const auto backup = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(backup);
    fs::create_directory(stick());
    ASSERT_OK(storage::copyOffMachine(folder(), *backup, stick(), now));
    letGo();
    fs::remove_all(folder());
    const auto listed = storage::listBackupsIn(stick() / "Riverside");
    ASSERT_OK(listed);
    const auto replaced = storage::restoreBackup(folder(), listed->front());
    ASSERT_OK(replaced);
    EXPECT_TRUE(replaced->empty());
    reopen();
    EXPECT_HOLDS(shop().jobs().find(job.id), job);
}

TEST_F(ShopCareTest, ATrialRestoreOpensTheBackupElsewhereAndLeavesNothingBehind) {
    saved(finishedJob());
    const auto backup = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(backup);
    const auto trials = [] {
        std::ptrdiff_t found = 0;
        for (const auto& entry : fs::directory_iterator(fs::temp_directory_path()))
            found += entry.path().filename().string().starts_with("milehold-trial-") ? 1 : 0;
        return found;
    };
    const auto before = trials();
    ASSERT_OK(storage::testRestore(folder(), *backup, now));
    EXPECT_EQ(storage::readCare(folder())->testRestore, now);
    EXPECT_EQ(trials(), before);
    flipABit(backup->folder / "shop.db", 5000);
    now += 1h;
    EXPECT_FAILS(storage::testRestore(folder(), *backup, now), ErrorCode::Unreadable);
    EXPECT_EQ(storage::readCare(folder())->testRestore, now - 1h);
}

TEST_F(ShopCareTest, TheNewestBackupThatVerifiesIsOffered) {
    EXPECT_FALSE(storage::newestGoodBackup(folder()).has_value());
    const auto first = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(first);
    now += 1h;
    saved(finishedJob());
    const auto second = shop().backUp(BackupReason::OnDemand);
    ASSERT_OK(second);
    EXPECT_EQ(storage::newestGoodBackup(folder()), *second);
    flipABit(second->folder / "shop.db", 5000);
    EXPECT_EQ(storage::newestGoodBackup(folder()), *first);
}

TEST(DiskRoomTest, IsLowUnderHalfAGigabyteOrThreeTimesTheFileAndScarceUnderAHundredMegabytes) {
    EXPECT_EQ((storage::DiskRoom{99'999'999, 0}.level()), RoomLevel::Scarce);
    EXPECT_EQ((storage::DiskRoom{100'000'000, 0}.level()), RoomLevel::Low);
    EXPECT_EQ((storage::DiskRoom{499'999'999, 0}.level()), RoomLevel::Low);
    EXPECT_EQ((storage::DiskRoom{500'000'000, 1'000}.level()), RoomLevel::Enough);
    EXPECT_EQ((storage::DiskRoom{600'000'000, 200'000'001}.level()), RoomLevel::Low);
    EXPECT_EQ((storage::DiskRoom{600'000'000, 200'000'000}.level()), RoomLevel::Enough);
}

TEST_F(ShopCareTest, AScarceDiskRefusesWhatCanWaitInWords) {
    const auto here = storage::roomOf(folder());
    ASSERT_OK(here);
    EXPECT_EQ(here->database, fs::file_size(database()));
    EXPECT_GT(here->free, 0U);
    EXPECT_OK(storage::requireRoom({100'000'000, 1'000}));
    const auto refused = storage::requireRoom({50'000'000, 1'000});
    EXPECT_FAILS(refused, ErrorCode::DiskProblem);
    EXPECT_THAT(refused.error().detail, ::testing::HasSubstr("50 MB free"));
    EXPECT_FAILS(storage::roomOf(folder() / "nowhere"), ErrorCode::NotFound);
}

} // namespace milehold::test
