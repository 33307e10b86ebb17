// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/attachment_store.h"
#include "storage/database/statement.h"
#include "storage/erasure.h"
#include "storage/exchange/exchange_store.h"
#include "storage/exchange/records_file.h"
#include "storage/exchange/shop_lives.h"
#include "storage/undo_store.h"
#include "tests/storage/support/shop_fixture.h"

#include <gmock/gmock.h>

#include <fstream>
#include <sstream>

namespace milehold::test {

using core::ErrorCode;

namespace {

/// Words that stand in every field which tells something about a person, and nowhere else.
const std::vector<std::string> kCanaries = {
    "Qanaryna",  "555 0777 31", "qan@example.org", "evenings-qan",
    "QNOTE",     "QAN 777",     "QVNOTE",          "QCONCERN",
    "QCAUSE",    "QFIX",        "QVOID",           "QCALLNOTE",
    "QCALLVOID", "QPHOTO",      "QDRAFT",          "0TK4RM27XKP042788"};

std::string bytesOfFile(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

/// `file: word` for each of the words that a file below the folder holds in any letter case.
std::vector<std::string> hits(const fs::path& folder) {
    std::vector<std::string> found;
    const auto lower = [](std::string text) {
        for (char& c : text)
            c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        return text;
    };
    for (const auto& entry : fs::recursive_directory_iterator(folder)) {
        if (!entry.is_regular_file())
            continue;
        const std::string bytes = lower(bytesOfFile(entry.path()));
        for (const auto& word : kCanaries)
            if (bytes.find(lower(word)) != std::string::npos)
                found.push_back(entry.path().filename().string() + ": " + word);
    }
    return found;
}

} // namespace

class Erasure : public ShopTest {
protected:
    void fill() {
        customer.name = "Qanaryna Wells";
        customer.phones = {"555 0777 31"};
        customer.emails = {"qan@example.org"};
        customer.bestTime = "evenings-qan";
        customer.note = "QNOTE";
        customer = *shop().customers().save(customer);
        vehicle.plate = "QAN 777";
        vehicle.note = "QVNOTE";
        vehicle = *shop().vehicles().save(vehicle);
        core::Job job = finishedJob(day(2030, 1, 15), 30'000);
        job.concern = "QCONCERN";
        job.cause = "QCAUSE";
        job.correction = "QFIX";
        first = saved(job);
        const core::Job second = saved(finishedJob(day(2031, 4, 9), 50'000));
        ASSERT_OK(shop().jobs().voidJob(second.id, second.revision, "QVOID"));
        core::FollowUp call;
        call.job = first.id;
        call.date = day(2031, 4, 20);
        call.outcome = core::FollowUpOutcome::Quiet;
        call.odometer = core::Distance::miles(50'900);
        call.note = "QCALLNOTE";
        call.voidReason = "QCALLVOID";
        ASSERT_OK(shop().followUps().save(call));
        call.voidReason.clear();
        ASSERT_OK(shop().followUps().save(call));
        std::ofstream(place.path() / "p.png", std::ios::binary) << "\x89PNG\r\n\x1A\nQPHOTO";
        ASSERT_OK(storage::attachmentsOf(shop()).add(first.id, place.path() / "p.png", "QPHOTO.png"));
        ASSERT_OK(shop().drafts().keep("job/" + core::toString(first.id.uuid), "QDRAFT"));
        ASSERT_OK(shop().drafts().keep("shelf/part", "somebody else's"));
    }
    std::string lives() {
        std::ostringstream out;
        EXPECT_OK(storage::exportLives(shop(), {.today = day(2031, 5, 1)}, out));
        return out.str();
    }
    core::Job first;
    TemporaryFolder place;
};

TEST_F(Erasure, RemovesThePersonFromEveryFileAndKeepsTheLife) {
    fill();
    const std::string before = lives();
    ASSERT_FALSE(hits(folder() / "store").empty()) << "the canaries must be there to be missed";
    const auto wanted = storage::whatForgettingTakes(shop(), customer.id);
    ASSERT_OK(wanted);
    EXPECT_EQ(wanted->vehicles, 1U);
    EXPECT_EQ(wanted->jobs, 2U);
    EXPECT_EQ(wanted->followUps, 2U);
    EXPECT_EQ(wanted->attachments, 1U);
    EXPECT_EQ(wanted->drafts, 1U);
    EXPECT_EQ(core::toIso(wanted->backupsUntil).substr(0, 10), "2033-05-01");
    EXPECT_EQ(wanted->jobsInWork, 0U);
    EXPECT_FALSE(wanted->onServer);
    ASSERT_FALSE(hits(folder() / "store").empty()) << "counting touches nothing";

    const auto done = storage::forgetCustomer(shop(), customer.id);
    ASSERT_OK(done);
    EXPECT_EQ(*done, *wanted);
    EXPECT_THAT(hits(folder() / "store"), ::testing::IsEmpty());
    EXPECT_THAT(hits(folder() / "logs"), ::testing::IsEmpty());
    EXPECT_EQ(lives(), before);
    const auto nobody = shop().customers().find(customer.id);
    ASSERT_OK(nobody);
    EXPECT_EQ(nobody->name, "Forgotten on request");
    EXPECT_TRUE(nobody->doNotCall);
    EXPECT_TRUE(
        shop().jobs().find(shop().jobs().rows({.scope = storage::JobScope::Void})->front().id)->isVoid());
    EXPECT_TRUE(shop().customers().search("Qanaryna", 5)->empty());
    EXPECT_TRUE(shop().vehicles().search("QAN", 5)->empty());
    EXPECT_EQ(shop().drafts().list()->size(), 1U);
    EXPECT_FALSE(fs::exists(place.path() / "missing"));
    // The chain still fits, and says of each value that it was withheld.
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
    const auto logged = shop().changeLog().of("customer", customer.id.uuid);
    ASSERT_OK(logged);
    for (const auto& change : *logged)
        for (const auto& field : change.fields)
            EXPECT_TRUE(field.withheld || !field.after || field.field == "do_not_call" ||
                        field.field == "forgotten")
                << field.field;
    EXPECT_FALSE(storage::undoOf(shop()).state()->undo.has_value()) << "what went before may hold it";
    reopen();
    EXPECT_THAT(hits(folder() / "store"), ::testing::IsEmpty());
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
    // Nothing of it can be taken back, and later saves can.
    EXPECT_FALSE(storage::undoOf(shop()).state()->undo.has_value());
    saved(finishedJob(day(2031, 4, 30), 51'000));
    EXPECT_TRUE(storage::undoOf(shop()).undo("why")->done);
    // The backup that was made before holds the person until it expires.
    EXPECT_FALSE(shop().backups()->empty());
}

TEST_F(Erasure, AForgottenCustomersVehicleTakesNewJobsAndTheChainStillFits) {
    fill();
    ASSERT_OK(storage::forgetCustomer(shop(), customer.id));
    vehicle = *shop().vehicles().find(vehicle.id);
    vehicle.plate = "NEW 1";
    ASSERT_OK(shop().vehicles().save(vehicle));
    saved(finishedJob(day(2031, 4, 30), 51'000));
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
    ASSERT_OK(storage::forgetCustomer(shop(), customer.id));
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
}

TEST_F(Erasure, SaysBeforeThatAJobOfTheCustomerIsStillInWork) {
    fill();
    core::Job job = finishedJob(day(2031, 4, 30), 51'000);
    job.delivered.reset();
    job.odometerOut.reset();
    saved(job);
    const auto scope = storage::whatForgettingTakes(shop(), customer.id);
    ASSERT_OK(scope);
    EXPECT_EQ(scope->jobs, 3U);
    EXPECT_EQ(scope->jobsInWork, 1U) << "neither the delivered nor the void one";
}

TEST_F(Erasure, OfNobodyChangesNothing) {
    const auto head = shop().changeLog().head();
    EXPECT_FAILS(storage::forgetCustomer(shop(), core::CustomerId{{{9}}}), ErrorCode::NotFound);
    EXPECT_HOLDS(shop().changeLog().head(), *head);
    EXPECT_TRUE(shop().backups()->empty());
}

TEST_F(Erasure, LeavesNoKeyWithWhichAWithheldValueCouldBeGuessed) {
    fill();
    const auto keysOf = [&](const core::Uuid& row) {
        storage::Statement count(shop().exchange().session(),
                                 "SELECT count(*) FROM private_salt WHERE row_id = :row", "test");
        count.bindId(":row", row);
        EXPECT_OK(count.run());
        EXPECT_TRUE(count.next().value_or(false));
        return count.integer(0);
    };
    const core::Uuid rows[] = {customer.id.uuid, vehicle.id.uuid, first.id.uuid};
    for (const auto& row : rows)
        ASSERT_EQ(keysOf(row), 1);
    ASSERT_OK(storage::forgetCustomer(shop(), customer.id));
    for (const auto& row : rows)
        EXPECT_EQ(keysOf(row), 0);
}

TEST_F(Erasure, WhoMustNotBeCalledIsInNoCallList) {
    fill();
    // A call that was answered today is not due; the day after it may be.
    const auto listed = [&] { return shop().followUps().callFacts(day(2031, 8, 1))->size(); };
    ASSERT_EQ(listed(), 1U);
    customer.doNotCall = true;
    customer = *shop().customers().save(customer);
    EXPECT_EQ(listed(), 0U);
}

} // namespace milehold::test
