// SPDX-License-Identifier: GPL-3.0-or-later
// What is not a sound shop is refused before anything is written to it.
#include "storage/files/durable.h"
#include "storage/files/file_check.h"
#include "tests/storage/support/shop_fixture.h"

#include <gmock/gmock.h>
#include <sqlite3.h>

#include <fstream>
#include <random>
#include <sys/stat.h>
#include <unistd.h>

namespace milehold::test {

using core::ErrorCode;

class BadFiles : public ShopTest {
protected:
    void SetUp() override {
        ShopTest::SetUp();
        saved(finishedJob());
        ASSERT_OK(shop().close());
        letGo();
        whole_ = bytes();
    }
    std::string bytes() const { return storage::readFile(database(), 100'000'000).value(); }
    void write(const std::string& content) const {
        std::ofstream(database(), std::ios::binary | std::ios::trunc) << content;
    }
    /// Opening fails with this code, says a sentence, and has written nothing.
    void expectRefused(ErrorCode code, const std::string& words) {
        const std::string before = bytes();
        const auto opened = tryOpen();
        EXPECT_FAILS(opened, code);
        EXPECT_THAT(opened.error().detail, ::testing::HasSubstr(words));
        EXPECT_THAT(opened.error().detail, ::testing::Not(::testing::HasSubstr(folder().string())));
        EXPECT_TRUE(bytes() == before) << words;
        EXPECT_FALSE(storage::Shop::holderOf(folder()).has_value()) << "a refused shop is let go";
    }
    std::string whole_;
};

TEST_F(BadFiles, AMissingFolderIsNotFound) {
    EXPECT_FAILS(storage::Shop::open(folder().parent_path() / "Nowhere.milehold"), ErrorCode::NotFound);
}

TEST_F(BadFiles, AMissingFileIsNotFoundAndNotMade) {
    fs::remove(database());
    EXPECT_FAILS(tryOpen(), ErrorCode::NotFound);
    EXPECT_FALSE(fs::exists(database()));
}

TEST_F(BadFiles, AnEmptyFileIsDamageAndNotANewShop) {
    write("");
    expectRefused(ErrorCode::Unreadable, "empty");
}

TEST_F(BadFiles, OneByteIsDamage) {
    write("S");
    expectRefused(ErrorCode::Unreadable, "cut short");
}

TEST_F(BadFiles, EveryCutIsFound) {
    std::mt19937_64 random(5); // NOLINT: a fixed seed is the point
    for (int i = 0; i < 60; ++i) {
        write(whole_.substr(0, 1 + random() % (whole_.size() - 1)));
        expectRefused(ErrorCode::Unreadable, "");
    }
}

TEST_F(BadFiles, ATextFileIsNotAShop) {
    write(std::string(5'000, 'x'));
    expectRefused(ErrorCode::NotAShop, "not a shop");
}

TEST_F(BadFiles, AnotherProgramsDatabaseIsNotAShop) {
    fs::remove(database());
    runOnFile("CREATE TABLE songs (title TEXT);");
    expectRefused(ErrorCode::NotAShop, "a database, but not a shop");
}

TEST_F(BadFiles, ANewerShopNamesBothSchemas) {
    runOnFile("PRAGMA user_version = 93;");
    expectRefused(ErrorCode::TooNew, "schema 93");
}

TEST_F(BadFiles, AVersionThatCannotBeReadIsAnErrorAndNotZero) {
    runOnFile("PRAGMA user_version = 0;");
    expectRefused(ErrorCode::Unreadable, "header");
    runOnFile("PRAGMA user_version = -4;");
    expectRefused(ErrorCode::Unreadable, "header");
}

TEST_F(BadFiles, GarbageInsideIsFoundByTheQuickCheck) {
    std::string broken = whole_;
    // A tree page of the schema, behind the header.
    broken.replace(100, 400, std::string(400, '\x7f'));
    write(broken);
    expectRefused(ErrorCode::Unreadable, "");
}

TEST_F(BadFiles, AFolderInPlaceOfTheFileIsNotAShop) {
    fs::remove(database());
    fs::create_directory(database());
    const auto opened = tryOpen();
    EXPECT_FAILS(opened, ErrorCode::NotAShop);
}

TEST_F(BadFiles, ALinkInPlaceOfTheFileIsNotAShop) {
    fs::rename(database(), folder() / "elsewhere.db");
    fs::create_symlink(folder() / "elsewhere.db", database());
    EXPECT_FAILS(tryOpen(), ErrorCode::NotAShop);
}

TEST_F(BadFiles, AFileWithSeveralNamesIsRefused) {
    ASSERT_EQ(::link(database().c_str(), (folder() / "second.db").c_str()), 0);
    expectRefused(ErrorCode::Unsupported, "several names");
}

TEST_F(BadFiles, AFileInPlaceOfTheFolderIsNotAShop) {
    const fs::path file = folder().parent_path() / "File.milehold";
    std::ofstream(file) << "x";
    EXPECT_FAILS(storage::Shop::open(file), ErrorCode::NotAShop);
    EXPECT_FAILS(storage::Shop::open(folder().parent_path()), ErrorCode::NotAShop);
}

TEST_F(BadFiles, AShopThatIsOpenNamesItsHolder) {
    reopen();
    const auto second = storage::Shop::open(folder());
    EXPECT_FAILS(second, ErrorCode::InUse);
    EXPECT_THAT(second.error().detail, ::testing::HasSubstr(std::to_string(::getpid())));
    const auto holder = storage::Shop::holderOf(folder());
    ASSERT_TRUE(holder.has_value());
    EXPECT_EQ(holder->pid, ::getpid());
    EXPECT_FALSE(holder->host.empty());
}

TEST_F(BadFiles, AnotherProgramsLockOnTheFileIsInUse) {
    sqlite3* other = nullptr;
    ASSERT_EQ(sqlite3_open(database().c_str(), &other), SQLITE_OK);
    ASSERT_EQ(sqlite3_exec(other, "BEGIN IMMEDIATE", nullptr, nullptr, nullptr), SQLITE_OK);
    const auto opened = tryOpen(); // the same process: SQLite still tells its own connections apart
    EXPECT_FAILS(opened, ErrorCode::InUse);
    sqlite3_close(other);
    EXPECT_OK(tryOpen());
}

TEST_F(BadFiles, TheOpenShopKeepsOthersOut) {
    reopen();
    sqlite3* other = nullptr;
    ASSERT_EQ(sqlite3_open(database().c_str(), &other), SQLITE_OK);
    EXPECT_EQ(sqlite3_exec(other, "SELECT count(*) FROM job", nullptr, nullptr, nullptr), SQLITE_BUSY);
    sqlite3_close(other);
}

TEST_F(BadFiles, AFileWithAWriteAheadLogIsConvertedAfterABackup) {
    runOnFile("PRAGMA journal_mode = WAL; UPDATE customer SET note = 'in the log';");
    EXPECT_EQ(bytes()[18], '\x02');
    now += std::chrono::seconds(1);
    reopen();
    EXPECT_EQ(shop().customers().find(customer.id)->note, "in the log");
    EXPECT_EQ(shop().backups()->front().reason, storage::BackupReason::BeforeMigration);
    ASSERT_OK(shop().close());
    letGo();
    EXPECT_EQ(bytes()[18], '\x01');
}

TEST_F(BadFiles, AShopLeftOpenIsCheckedInFull) {
    reopen();
    letGo(); // no close()
    EXPECT_TRUE(fs::exists(folder() / "store" / "open.mark"));
    // Structurally sound, so that only the full check sees it.
    runOnFile("UPDATE job SET odometer_in = odometer_in - 1;");
    const auto opened = tryOpen();
    EXPECT_FAILS(opened, ErrorCode::Unreadable);
    EXPECT_THAT(opened.error().detail, ::testing::HasSubstr("odometer"));
    runOnFile("UPDATE job SET odometer_in = odometer_in + 1;");
    reopen();
    ASSERT_OK(shop().close());
    EXPECT_FALSE(fs::exists(folder() / "store" / "open.mark"));
}

TEST_F(BadFiles, ADamagedShopIsKeptAsideAndNoJournalOfItStaysBesideItsBackup) {
    write(whole_.substr(0, whole_.size() / 2) + std::string(whole_.size() / 2, '\x55'));
    EXPECT_FAILS(tryOpen(), ErrorCode::Unreadable);
    std::ofstream(fs::path(database()) += "-journal", std::ios::binary) << std::string(600, '\x01');
    const auto backups = storage::listBackups(folder());
    ASSERT_OK(backups);
    ASSERT_FALSE(backups->empty());
    const auto aside = storage::restoreBackup(folder(), backups->front());
    ASSERT_OK(aside);
    EXPECT_TRUE(fs::exists(*aside / "shop.db"));
    EXPECT_FALSE(fs::exists(fs::path(database()) += "-journal")) << "it would be played back into the backup";
    reopen();
    EXPECT_EQ(shop().jobs().rows({})->size(), 1U);
}

TEST_F(BadFiles, FilesAreForTheOwnerOnly) {
    reopen();
    const auto modeOf = [](const fs::path& file) {
        struct stat status {};
        EXPECT_EQ(::stat(file.c_str(), &status), 0) << file;
        return status.st_mode & 0777U;
    };
    const auto backup = shop().backUp(storage::BackupReason::OnDemand);
    ASSERT_OK(backup);
    EXPECT_EQ(modeOf(folder()), 0700U);
    EXPECT_EQ(modeOf(folder() / "store"), 0700U);
    EXPECT_EQ(modeOf(database()), 0600U);
    EXPECT_EQ(modeOf(folder() / "app.lock"), 0600U);
    EXPECT_EQ(modeOf(backup->folder), 0700U);
    EXPECT_EQ(modeOf(backup->folder / "shop.db"), 0600U);
    EXPECT_EQ(modeOf(backup->folder / "manifest.json"), 0600U);
}

TEST_F(BadFiles, CreateRefusesWhatIsThere) {
    EXPECT_FAILS(storage::Shop::create(folder(), someSettings()), ErrorCode::InvalidInput);
    EXPECT_FAILS(storage::Shop::create(folder().parent_path() / "NoEnding", someSettings()),
                 ErrorCode::InvalidInput);
    EXPECT_FAILS(storage::Shop::create(folder().parent_path() / ".milehold", someSettings()),
                 ErrorCode::InvalidInput);
    EXPECT_FAILS(storage::Shop::create(folder().parent_path() / "no" / "X.milehold", someSettings()),
                 ErrorCode::NotFound);
    core::ShopSettings nameless = someSettings();
    nameless.name.clear();
    const fs::path other = folder().parent_path() / "Other.milehold";
    EXPECT_FAILS(storage::Shop::create(other, nameless), ErrorCode::InvalidInput);
    EXPECT_FALSE(fs::exists(other));
    fs::create_directory(other);
    EXPECT_OK(storage::Shop::create(other, someSettings()));
    reopen();
}

TEST(FileSystems, NetworkDisksAreRefused) {
    for (const char* type : {"nfs", "nfs4", "cifs", "smb3", "smbfs", "fuse.sshfs", "9p", "davfs"})
        EXPECT_TRUE(storage::isRefusedFileSystem(type)) << type;
    for (const char* type : {"ext4", "xfs", "btrfs", "tmpfs", "zfs", "fuseblk"})
        EXPECT_FALSE(storage::isRefusedFileSystem(type)) << type;
}

} // namespace milehold::test
