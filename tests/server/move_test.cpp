// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/attachment_store.h"
#include "storage/make_id.h"
#include "storage/server/move_shop.h"
#include "storage/server/setup_server.h"
#include "tests/server/on_server.h"

#include <gmock/gmock.h>

#include <fstream>
#include <iostream>

namespace milehold::test {

using core::ErrorCode;

/// A folder's shop with what a copy could trip over: records that name each other out of order, void jobs,
/// removed ones, an instrument that was replaced, odd and long text.
class Move : public ShopTest {
protected:
    void SetUp() override {
        ShopTest::SetUp();
        core::Job earlier = finishedJob(day(2031, 1, 9), 40'000);
        earlier.number = 90; // the comeback below has the lower number
        earlier = saved(earlier);
        core::Job comeback = finishedJob(day(2031, 3, 9), 41'000);
        comeback.number = 17;
        comeback.comebackOf = earlier.id;
        comeback.comebackDecision = core::ComebackDecision::Workmanship;
        comeback.concern = oddText();
        comeback.cause = longText();
        comeback = saved(comeback);
        ASSERT_OK(shop().jobs().voidJob(comeback.id, comeback.revision, "twice"));
        core::OdometerReading replaced;
        replaced.vehicle = vehicle.id;
        replaced.date = day(2031, 4, 1);
        replaced.shown = core::Distance::miles(10);
        replaced.resetOffset = core::Distance::miles(41'100);
        ASSERT_OK(shop().vehicles().saveOdometer(replaced));
        core::PartNumber next = part;
        next.id = {};
        next.revision = 0;
        next.revisionLabel = "D";
        const auto savedNext = shop().shelf().save(next);
        ASSERT_OK(savedNext);
        part.supersededBy = savedNext->id;
        ASSERT_OK(shop().shelf().save(part));
        customer.note = longText();
        ASSERT_OK(shop().customers().save(customer));
        core::Job work = finishedJob(day(2031, 4, 20), 100);
        work.delivered.reset();
        work = saved(work);
        ASSERT_OK(shop().jobs().remove(work.id, work.revision));
        std::ofstream(place_.path() / "a.png", std::ios::binary) << photo();
        const auto named =
            storage::attachmentsOf(shop()).add(earlier.id, place_.path() / "a.png", "before work");
        ASSERT_OK(named);
        photo_ = *named;
        head_ = *shop().changeLog().head();
        jobs_ = *shop().jobs().rows({});
        ASSERT_OK(shop().drafts().keep("job", "half a sentence"));
        ASSERT_OK(shop().close());
        letGo();
    }
    static std::string photo() { return "\x89PNG\r\n\x1A\n" + std::string(400'000, 'x') + "end"; }
    /// What a shop hands out of the photo, and where it lies there is nothing more.
    std::string photoIn(storage::Shop& shop) {
        const auto copy = storage::attachmentsOf(shop).copyToRead(photo_.id, place_.path());
        EXPECT_OK(copy);
        std::ifstream file(copy.value_or(fs::path()), std::ios::binary);
        return {std::istreambuf_iterator<char>(file), {}};
    }
    TemporaryFolder place_;
    core::Attachment photo_;
    storage::ChainHead head_;
    std::vector<storage::JobRow> jobs_;
};

TEST_F(Move, AShopGoesToAServerAndBackAndIsTheSameRowByRow) {
    auto& server = PostgresqlServer::shared();
    const std::string there = server.makeDatabase();
    const auto moved = storage::moveShop(folder().string(), there);
    ASSERT_OK(moved);
    EXPECT_EQ(moved->head, head_);
    EXPECT_EQ(moved->files, 1);
    std::int64_t rows = 0;
    for (const auto& table : moved->tables) {
        EXPECT_EQ(table.from, table.to) << table.name;
        rows += table.rows;
    }
    EXPECT_GT(moved->tables.size(), 25U);
    {
        auto shop = storage::Shop::open(there);
        ASSERT_OK(shop);
        EXPECT_HOLDS((*shop)->jobs().rows({}), jobs_);
        EXPECT_HOLDS((*shop)->customers().find(customer.id), *(*shop)->customers().find(customer.id));
        EXPECT_EQ((*shop)->customers().find(customer.id)->note, longText());
        EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
        EXPECT_TRUE(photoIn(**shop) == photo());
        // The next number follows the highest that was ever given.
        core::Job next = finishedJob(day(2031, 4, 25), 200);
        const auto job = (*shop)->jobs().save({next, {}, {}});
        ASSERT_OK(job);
        EXPECT_EQ(job->job.number, 92);
    }
    const fs::path back = folder().parent_path() / "Back.milehold";
    const auto returned = storage::moveShop(there, back.string());
    ASSERT_OK(returned);
    auto shop = storage::Shop::open(back);
    ASSERT_OK(shop);
    EXPECT_EQ((*shop)->jobs().rows({})->size(), jobs_.size() + 1);
    EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
    EXPECT_EQ(returned->files, 1);
    EXPECT_TRUE(photoIn(**shop) == photo());
    EXPECT_TRUE((*shop)->drafts().list()->empty()) << "a draft belongs to the station where it was typed";
    std::cout << "move: " << moved->tables.size() << " tables, " << rows << " rows, change log to row "
              << moved->head.sequence << ", equal there and back\n";
}

TEST_F(Move, ATargetThatHoldsAnythingIsRefusedAndKept) {
    auto& server = PostgresqlServer::shared();
    const std::string there = server.makeDatabase();
    ASSERT_OK(storage::makeShopOnServer(there, someSettings()));
    EXPECT_FAILS(storage::moveShop(folder().string(), there), ErrorCode::InvalidInput);
    EXPECT_EQ(server.ask(there.substr(there.rfind('/') + 1), "SELECT name FROM milehold.shop"),
              someSettings().name);
    EXPECT_FAILS(storage::moveShop(there, folder().string()), ErrorCode::InvalidInput);
    reopen();
    EXPECT_HOLDS(shop().jobs().rows({}), jobs_);
}

TEST_F(Move, ACopyThatDiffersIsNotKept) {
    auto& server = PostgresqlServer::shared();
    const std::string there = server.makeDatabase();
    const std::string database = there.substr(there.rfind('/') + 1);
    server.ask(database,
               "CREATE FUNCTION milehold.spoil() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN NEW.plate = "
               "NEW.plate || 'x'; RETURN NEW; END $$");
    server.ask(database,
               "CREATE TRIGGER spoil BEFORE INSERT ON milehold.vehicle FOR EACH ROW EXECUTE FUNCTION "
               "milehold.spoil()");
    const auto moved = storage::moveShop(folder().string(), there);
    EXPECT_FAILS(moved, ErrorCode::Unreadable);
    EXPECT_THAT(moved.error().detail, ::testing::HasSubstr("vehicle"));
    EXPECT_EQ(server.ask(database, "SELECT count(*) FROM milehold.vehicle"), "0");
    reopen();
    EXPECT_HOLDS(shop().jobs().rows({}), jobs_);
}

TEST_F(Move, AFileThatIsNotWhatItWasStopsTheMoveEitherWay) {
    auto& server = PostgresqlServer::shared();
    const std::string there = server.makeDatabase();
    const std::string database = there.substr(there.rfind('/') + 1);
    const fs::path file = folder() / "store" / "attachments" / photo_.sha256.substr(0, 2) / photo_.sha256;
    std::ofstream(file, std::ios::binary) << photo() << "spoilt";
    EXPECT_FAILS(storage::moveShop(folder().string(), there), ErrorCode::Unreadable);
    EXPECT_EQ(server.ask(database, "SELECT count(*) FROM milehold.attachment_file"), "0");
    EXPECT_EQ(server.ask(database, "SELECT count(*) FROM milehold.job"), "0");
    std::ofstream(file, std::ios::binary) << photo();
    ASSERT_OK(storage::moveShop(folder().string(), there));
    server.ask(database, "UPDATE milehold.attachment_block SET bytes = 'x' WHERE place = 1");
    const fs::path back = folder().parent_path() / "Back.milehold";
    EXPECT_FAILS(storage::moveShop(there, back.string()), ErrorCode::Unreadable);
    EXPECT_FALSE(fs::exists(back));
    server.ask(database, "DELETE FROM milehold.attachment_file");
    EXPECT_FAILS(storage::moveShop(there, back.string()), ErrorCode::NotFound);
}

} // namespace milehold::test
