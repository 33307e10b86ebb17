// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/migrations.h"
#include "storage/database/sqlite_connection.h"
#include "storage/database/statement.h"
#include "storage/shop_open.h"
#include "tests/storage/support/shop_fixture.h"

#include <gmock/gmock.h>

namespace milehold::test {

using core::ErrorCode;
using storage::Migration;

/// The built-in steps and some more, as a later program will have them.
class Migrations : public ShopTest {
protected:
    void SetUp() override {
        ShopTest::SetUp();
        job_ = saved(finishedJob());
        ASSERT_OK(shop().close());
        letGo();
        steps_ = storage::builtInMigrations("sqlite").value();
        released_ = steps_.size();
    }
    void add(const std::string& sql) {
        const auto version = steps_.size() + 1;
        const std::string name = "000" + std::to_string(version) + "_later.sql";
        steps_.push_back(storage::parseMigration(name, sql).value());
    }
    core::Result<storage::OpenedShop> open() {
        now += std::chrono::seconds(1);
        return storage::openShop({folder()}, {.clock = [this] { return now; }}, steps_);
    }
    core::Job job_;
    std::vector<Migration> steps_;
    std::size_t released_ = 0;
};

TEST_F(Migrations, AFileIsSplitIntoItsStatements) {
    const auto step =
        storage::parseMigration("0007_more.sql", "CREATE TABLE a (x);\n-- next\nCREATE TABLE b (y);\n");
    ASSERT_OK(step);
    EXPECT_EQ(step->version, 7);
    EXPECT_EQ(step->name, "0007_more");
    EXPECT_THAT(step->statements, ::testing::ElementsAre("CREATE TABLE a (x);", "CREATE TABLE b (y);\n"));
    EXPECT_EQ(step->sha256.size(), 64U);
    EXPECT_FAILS(storage::parseMigration("more.sql", "SELECT 1"), ErrorCode::Internal);
    EXPECT_FAILS(storage::parseMigration("0000_more.sql", "SELECT 1"), ErrorCode::Internal);
    EXPECT_FAILS(storage::parseMigration("0001_more.sql", " \n"), ErrorCode::Internal);
    EXPECT_FAILS(storage::parseMigration("0001_more.sql", "SELECT 1\n-- next\n"), ErrorCode::Internal);
}

TEST_F(Migrations, AnOlderShopIsBackedUpAndBroughtUpToDateStepByStep) {
    add("ALTER TABLE job ADD COLUMN bay TEXT NOT NULL DEFAULT 'one'");
    add("CREATE TABLE tool (id TEXT PRIMARY KEY NOT NULL) STRICT\n-- next\nINSERT INTO tool (id) VALUES "
        "('wrench')");
    auto opened = open();
    ASSERT_OK(opened);
    auto& database = opened->session->database();
    EXPECT_EQ(storage::askPlain(database, "PRAGMA user_version", "").value(),
              storage::intValue(static_cast<std::int64_t>(steps_.size())));
    EXPECT_EQ(storage::askPlain(database, "SELECT bay FROM job", "").value(), storage::textValue("one"));
    EXPECT_EQ(storage::askPlain(database, "SELECT count(*) FROM schema_migration", "").value(),
              storage::intValue(static_cast<std::int64_t>(steps_.size())));
    EXPECT_EQ(storage::askPlain(database, "PRAGMA foreign_keys", "").value(), storage::intValue(1));
    const auto backups = storage::listBackups(folder());
    ASSERT_OK(backups);
    EXPECT_EQ(backups->front().reason, storage::BackupReason::BeforeMigration);
    EXPECT_EQ(backups->front().schema, static_cast<std::int64_t>(released_));
    EXPECT_OK(storage::verifyBackup(backups->front()));
    opened->session->close();
    opened->lock.reset();
    // Today's program refuses what a later one has written, and the copy from before is still its own.
    EXPECT_FAILS(tryOpen(), ErrorCode::TooNew);
    ASSERT_OK(storage::restoreBackup(folder(), backups->front()));
    reopen();
    EXPECT_HOLDS(shop().jobs().find(job_.id), job_);
}

TEST_F(Migrations, RunningThemAgainChangesNothing) {
    add("CREATE TABLE tool (id TEXT PRIMARY KEY NOT NULL) STRICT");
    {
        auto opened = open();
        ASSERT_OK(opened);
    }
    const auto before = storage::listBackups(folder())->size();
    auto again = open();
    ASSERT_OK(again);
    EXPECT_EQ(storage::listBackups(folder())->size(), before);
}

TEST_F(Migrations, AFailingStepLeavesTheVersionAndTablesBeforeIt) {
    add("CREATE TABLE tool (id TEXT PRIMARY KEY NOT NULL) STRICT");
    add("CREATE TABLE half (id TEXT PRIMARY KEY NOT NULL) STRICT\n-- next\nINSERT INTO nowhere VALUES (1)");
    EXPECT_FALSE(open().has_value());
    steps_.pop_back();
    auto opened = open();
    ASSERT_OK(opened);
    auto& database = opened->session->database();
    EXPECT_EQ(storage::askPlain(database, "PRAGMA user_version", "").value(),
              storage::intValue(static_cast<std::int64_t>(released_ + 1)));
    EXPECT_EQ(
        storage::askPlain(database, "SELECT count(*) FROM sqlite_schema WHERE name = 'half'", "").value(),
        storage::intValue(0));
    EXPECT_EQ(storage::askPlain(database, "SELECT count(*) FROM job", "").value(), storage::intValue(1));
}

TEST_F(Migrations, AStepThatLeavesARecordWithoutItsOwnerIsRolledBack) {
    add("DELETE FROM vehicle");
    EXPECT_FAILS(open(), ErrorCode::Unreadable);
    reopen();
    EXPECT_HOLDS(shop().vehicles().find(vehicle.id), vehicle);
}

TEST_F(Migrations, AStepMayRebuildATableThatOthersName) {
    add("CREATE TABLE new_staff (id TEXT PRIMARY KEY NOT NULL, name TEXT NOT NULL, technician INTEGER NOT "
        "NULL, "
        "advisor INTEGER NOT NULL, owner INTEGER NOT NULL, active INTEGER NOT NULL, rev INTEGER NOT NULL, "
        "badge TEXT NOT NULL DEFAULT '') STRICT\n-- next\n"
        "INSERT INTO new_staff SELECT id, name, technician, advisor, owner, active, rev, '' FROM staff\n-- "
        "next\n"
        "DROP TABLE staff\n-- next\nALTER TABLE new_staff RENAME TO staff");
    auto opened = open();
    ASSERT_OK(opened);
    EXPECT_EQ(storage::askPlain(opened->session->database(), "SELECT count(*) FROM staff", "").value(),
              storage::intValue(1));
    EXPECT_EQ(storage::askPlain(opened->session->database(), "PRAGMA foreign_key_check", "").value(),
              storage::Value());
}

TEST_F(Migrations, AnOlderBackupIsBrowsedInACopy) {
    const auto backup = storage::listBackups(folder())->front();
    add("CREATE TABLE tool (id TEXT PRIMARY KEY NOT NULL) STRICT");
    auto browsed = storage::browseBackup(backup, {}, steps_);
    ASSERT_OK(browsed);
    EXPECT_EQ(storage::askPlain(browsed->session->database(), "SELECT count(*) FROM tool", "").value(),
              storage::intValue(0));
    EXPECT_OK(storage::verifyBackup(backup));
    ASSERT_NE(browsed->temporary, nullptr);
    const fs::path copy = browsed->temporary->path();
    EXPECT_TRUE(fs::exists(copy / "shop.db"));
    *browsed = {};
    EXPECT_FALSE(fs::exists(copy)) << "nothing of a person stays in the place for temporary files";
}

} // namespace milehold::test
