// SPDX-License-Identifier: GPL-3.0-or-later
// The connection's settings, the binding helper and the unit of work.
#include "storage/database/session.h"
#include "storage/database/sqlite_connection.h"
#include "storage/database/sqlite_handle.h"
#include "storage/database/statement.h"
#include "storage/database/unit_of_work.h"
#include "tests/storage/support/shop_fixture.h"

#include <gmock/gmock.h>
#include <sqlite3.h>

namespace milehold::test {

using core::ErrorCode;
using storage::Access;
using storage::intValue;
using storage::Session;
using storage::Statement;
using storage::textValue;
using storage::UnitOfWork;

class Connection : public ShopTest {
protected:
    void SetUp() override {
        ShopTest::SetUp();
        ASSERT_OK(shop().close());
        letGo();
        session_ = std::make_unique<Session>(
            [file = database()] { return storage::openSqlite(file, Access::Write); }, [this] { return now; },
            false);
        ASSERT_OK(session_->connect());
    }
    storage::Value ask(const char* sql) { return storage::askPlain(session_->database(), sql, sql).value(); }
    core::Result<void> run(const char* sql) {
        Statement statement(*session_, sql, "test");
        return statement.run();
    }
    std::unique_ptr<Session> session_;
};

TEST_F(Connection, EverySettingHolds) {
    EXPECT_EQ(ask("PRAGMA locking_mode"), textValue("exclusive"));
    EXPECT_EQ(ask("PRAGMA journal_mode"), textValue("truncate"));
    EXPECT_EQ(ask("PRAGMA synchronous"), intValue(3)); // EXTRA
    EXPECT_EQ(ask("PRAGMA foreign_keys"), intValue(1));
    EXPECT_EQ(ask("PRAGMA recursive_triggers"), intValue(1));
    EXPECT_EQ(ask("PRAGMA cell_size_check"), intValue(1));
    EXPECT_EQ(ask("PRAGMA secure_delete"), intValue(1));
    EXPECT_EQ(ask("PRAGMA trusted_schema"), intValue(0));
    EXPECT_EQ(ask("PRAGMA mmap_size"), intValue(0));
    EXPECT_EQ(ask("PRAGMA temp_store"), intValue(2));
    EXPECT_EQ(ask("PRAGMA application_id"), intValue(0x4D487262));
    sqlite3* handle = storage::sqliteHandle(session_->database());
    ASSERT_NE(handle, nullptr) << "Qt's driver carries another SQLite";
    EXPECT_EQ(sqlite3_limit(handle, SQLITE_LIMIT_ATTACHED, -1), 1);
    EXPECT_EQ(sqlite3_limit(handle, SQLITE_LIMIT_LENGTH, -1), 20'000'000);
    int defensive = 0;
    sqlite3_db_config(handle, SQLITE_DBCONFIG_DEFENSIVE, -1, &defensive);
    EXPECT_EQ(defensive, 1);
}

TEST_F(Connection, AQuotedWordIsNeverTakenForText) {
    EXPECT_FALSE(run("SELECT count(*) FROM job WHERE repair_order = \"no such column\"").has_value());
}

TEST_F(Connection, AMisspeltPlaceholderNeverBindsSilently) {
    Statement select(*session_, "SELECT count(*) FROM job WHERE number = :number", "test");
#ifdef NDEBUG
    select.bindInt(":nmuber", 1);
    EXPECT_FAILS(select.run(), ErrorCode::Internal);
#else
    EXPECT_DEATH(select.bindInt(":nmuber", 1), "no such placeholder");
    EXPECT_DEATH(static_cast<void>(select.run()), "not bound");
    select.bindInt(":number", 1);
    EXPECT_DEATH(select.bindInt(":number", 2), "bound twice");
#endif
}

TEST_F(Connection, AFailedReadIsAnErrorAndNotTheLastRow) {
    Statement select(*session_, "SELECT abs(column1) FROM (VALUES (1), (-9223372036854775808))", "test");
    ASSERT_OK(select.run());
    EXPECT_TRUE(select.next().value());
    EXPECT_FALSE(select.next().has_value()) << "the second row overflows when it is computed";
}

TEST_F(Connection, AUnitThatIsLeftRollsBack) {
    {
        UnitOfWork unit(*session_);
        ASSERT_OK(unit.begin());
        ASSERT_OK(run("UPDATE customer SET note = 'lost'"));
    }
    EXPECT_EQ(ask("SELECT count(*) FROM customer WHERE note = 'lost'"), intValue(0));
    EXPECT_EQ(session_->unit(), nullptr);
}

TEST_F(Connection, NothingRunsInAUnitAfterItsFirstFailure) {
    UnitOfWork unit(*session_);
    ASSERT_OK(unit.begin());
    ASSERT_OK(run("UPDATE customer SET note = 'lost'"));
    EXPECT_FALSE(run("UPDATE customer SET name = ''").has_value());
    EXPECT_FAILS(run("UPDATE customer SET note = 'later'"), ErrorCode::Internal);
    UnitOfWork inner(*session_);
    EXPECT_FAILS(inner.begin(), ErrorCode::Internal);
    EXPECT_FALSE(unit.commit().has_value());
    EXPECT_EQ(ask("SELECT count(*) FROM customer WHERE note IN ('lost', 'later')"), intValue(0));
}

TEST_F(Connection, AUnitInsideAnotherThatIsLeftTakesTheOuterWithIt) {
    UnitOfWork outer(*session_);
    ASSERT_OK(outer.begin());
    ASSERT_OK(run("UPDATE customer SET note = 'outer'"));
    {
        UnitOfWork inner(*session_);
        ASSERT_OK(inner.begin());
    }
    EXPECT_FALSE(outer.commit().has_value());
    EXPECT_EQ(ask("SELECT count(*) FROM customer WHERE note = 'outer'"), intValue(0));
}

TEST_F(Connection, ATransactionThatSqliteEndedByItselfIsNoticed) {
    UnitOfWork unit(*session_);
    ASSERT_OK(unit.begin());
    ASSERT_OK(run("UPDATE customer SET note = 'lost'"));
    ASSERT_OK(run("ROLLBACK")); // as after "disk full"
    ASSERT_OK(run("UPDATE customer SET note = 'alone'"));
    // Even a row of the change log, which stands alone by now, does not pass for a commit that arrived.
    ASSERT_OK(unit.log(storage::ChangeAction::Update, "customer", customer.id.uuid,
                       {{"note", {}, textValue("alone"), false}}));
    EXPECT_FALSE(unit.commit().has_value());
}

TEST_F(Connection, ErrorsTellTheirKind) {
    EXPECT_FAILS(run("UPDATE customer SET name = ''"), ErrorCode::InvalidInput);   // CHECK
    EXPECT_FAILS(run("UPDATE customer SET name = NULL"), ErrorCode::InvalidInput); // NOT NULL
    EXPECT_FAILS(run("UPDATE customer SET rev = 'abc'"), ErrorCode::InvalidInput); // STRICT
    EXPECT_FAILS(run("DELETE FROM engine_family"), ErrorCode::InvalidInput);       // foreign key
    const auto trigger = run("DELETE FROM change_log");
    EXPECT_FAILS(trigger, ErrorCode::InvalidInput);
    EXPECT_THAT(trigger.error().detail, ::testing::HasSubstr("the change log is never shortened"));
    EXPECT_FAILS(run("SELEKT 1"), ErrorCode::Internal);
}

TEST_F(Connection, TextWithAnEmptyStringIsNotNull) {
    Statement select(*session_, "SELECT :empty IS NULL, :null IS NULL, :text, :number", "test");
    select.bindText(":empty", "").bind(":null", {}).bindText(":text", oddText()).bindInt(":number", -5);
    ASSERT_OK(select.run());
    ASSERT_TRUE(select.next().value());
    EXPECT_EQ(select.integer(0), 0);
    EXPECT_EQ(select.integer(1), 1);
    EXPECT_EQ(select.text(2), oddText());
    EXPECT_EQ(select.value(3), intValue(-5));
    EXPECT_FALSE(select.next().value());
}

} // namespace milehold::test
