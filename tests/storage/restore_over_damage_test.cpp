// SPDX-License-Identifier: GPL-3.0-or-later
// What a restore replaces is put aside as it was found, journals too: SQLite would play a journal back or
// drop it, and a rescue needs both. The state before is backed up all the same, from a copy.
#include "storage/backup.h"
#include "tests/storage/support/shop_fixture.h"

#include <sqlite3.h>

#include <algorithm>
#include <fstream>
#include <sstream>

namespace milehold::test {

using storage::BackupInfo;
using storage::BackupReason;

namespace {

std::string bytesIn(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

fs::path journalOf(const fs::path& database) {
    return fs::path(database) += "-journal";
}

/// Leaves a closed shop's file as a kill in the middle of a save would: changed pages in the file, the ones
/// before in its journal.
void leaveHalfASave(const fs::path& database) {
    sqlite3* handle = nullptr;
    ASSERT_EQ(sqlite3_open(database.c_str(), &handle), SQLITE_OK);
    for (const char* sql :
         {"PRAGMA cache_size = 1", "BEGIN IMMEDIATE", "UPDATE vehicle SET note = 'half ' || note",
          "UPDATE customer SET note = note || hex(zeroblob(20000))"})
        ASSERT_EQ(sqlite3_exec(handle, sql, nullptr, nullptr, nullptr), SQLITE_OK) << sqlite3_errmsg(handle);
    const std::string pages = bytesIn(database);
    const std::string journal = bytesIn(journalOf(database));
    sqlite3_close(handle); // rolls back; what stood on the disk meanwhile is put in its place
    ASSERT_GT(journal.size(), 512U);
    ASSERT_EQ(journal.substr(0, 8), "\xd9\xd5\x05\xf9\x20\xa1\x63\xd7"); // sqlite.org/fileformat2.html, 3
    std::ofstream(database, std::ios::binary) << pages;
    std::ofstream(journalOf(database), std::ios::binary) << journal;
}

} // namespace

class RestoreOver : public ShopTest {
protected:
    void SetUp() override {
        ShopTest::SetUp();
        ASSERT_OK(shop().backUp(BackupReason::OnDemand));
        early = shop().backups()->front();
        now += std::chrono::minutes(1);
        late = saved(finishedJob());
        head = shop().changeLog().head()->hash;
        ASSERT_OK(shop().close());
        letGo();
        leaveHalfASave(database());
    }
    /// Restores, and compares what lies aside with what was there.
    void restoreAndCompare() {
        const std::string pages = bytesIn(database());
        const std::string journal = bytesIn(journalOf(database()));
        const auto aside = storage::restoreBackup(folder(), early);
        ASSERT_OK(aside);
        EXPECT_TRUE(bytesIn(*aside / "shop.db") == pages) << "the file was written to";
        EXPECT_TRUE(bytesIn(*aside / "shop.db-journal") == journal)
            << "the journal was played back or dropped";
        EXPECT_FALSE(fs::exists(journalOf(database())));
        for (const auto& entry : fs::directory_iterator(folder()))
            EXPECT_FALSE(entry.path().filename().string().starts_with("reading-")) << "a copy was left";
        reopen();
        EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
        EXPECT_FAILS(shop().jobs().find(late.id), core::ErrorCode::NotFound);
    }
    BackupInfo early;
    core::Job late;
    std::string head;
};

TEST_F(RestoreOver, AShopThatWasKilledKeepsItsJournalAndIsBackedUpAsItWasBeforeTheHalfSave) {
    restoreAndCompare();
    const auto backups = storage::listBackups(folder());
    ASSERT_OK(backups);
    const auto kept = std::ranges::find(*backups, BackupReason::BeforeRestore, &BackupInfo::reason);
    ASSERT_NE(kept, backups->end()) << "what was replaced is a backup too";
    EXPECT_EQ(kept->chainHash, head);
    EXPECT_OK(storage::verifyBackup(*kept));
    EXPECT_EQ(kept->jobs(), 1);
}

TEST_F(RestoreOver, ADamagedFileThatOpensIsNotTouchedEither) {
    // Everything after the first page but its last: the header is whole, and a check finds damage.
    std::fstream file(database(), std::ios::in | std::ios::out | std::ios::binary);
    const auto size = static_cast<std::streamoff>(fs::file_size(database()));
    for (std::streamoff at = 4096; at < size - 4096; at += 4096) {
        file.seekp(at + 8);
        file.write("\xff\xff\xff\xff\xff\xff\xff\xff", 8);
    }
    file.close();
    restoreAndCompare();
}

TEST_F(RestoreOver, AFileWhoseHeaderIsGoneIsPutAsideWithItsJournal) {
    std::fstream file(database(), std::ios::in | std::ios::out | std::ios::binary);
    file.write("no database", 11);
    file.close();
    restoreAndCompare();
}

TEST(RestoreLeftovers, OfAProgramThatWasKilledGoWithTheNextBackup) {
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Left.milehold";
    auto shop = storage::Shop::create(folder, someSettings());
    ASSERT_OK(shop);
    for (const auto* name : {"reading-2031-05-01T104207Z", "reading-now"}) {
        fs::create_directory(folder / name);
        std::ofstream(folder / name / "shop.db") << "somebody's name";
    }
    fs::last_write_time(folder / "reading-2031-05-01T104207Z",
                        fs::file_time_type::clock::now() - std::chrono::hours(2));
    ASSERT_OK((*shop)->backUp(BackupReason::OnDemand));
    EXPECT_FALSE(fs::exists(folder / "reading-2031-05-01T104207Z"));
    EXPECT_TRUE(fs::exists(folder / "reading-now")) << "a restore may be reading it";
}

} // namespace milehold::test
