// SPDX-License-Identifier: GPL-3.0-or-later
// After a customer was forgotten: which of the server's own files still hold a word of that person, byte by
// byte. Removed rows stay in a table's file until they are cleaned, in its TOAST file and its indexes, in the
// samples that the planner keeps (pg_statistic) and in the write-ahead log (PostgreSQL manual, 25.1, 30.5,
// 73).
#include "storage/attachment_store.h"
#include "storage/erasure.h"
#include "storage/server/setup_server.h"
#include "tests/server/on_server.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <iostream>
#include <random>
#include <set>
#include <sstream>
#include <thread>

namespace milehold::test {

namespace {

/// They stand in every field that tells something about a person, and nowhere else; folded ones in indexes.
const std::vector<std::string> kWords = {"QORYNNA",     "qorynna",  "5550888417", "qorynna@example.org",
                                         "QORBEST",     "QORNOTE",  "QORPLATE",   "QORVEHICLE",
                                         "QORCONCERN",  "QORCAUSE", "QORFIX",     "QORCALL",
                                         "QORCALLVOID", "QORPHOTO", "QORPICTURE", "QORVOIDREASON",
                                         "QORLONGWORD"};

/// `file: word` for every word in a file below the folder; files come and go under a running server.
std::set<std::string> hits(const fs::path& folder, bool inLog) {
    std::set<std::string> found;
    std::error_code none;
    for (fs::recursive_directory_iterator at(folder, none), end; at != end; at.increment(none)) {
        const bool isLog = at->path().parent_path().filename() == "pg_wal";
        if (!at->is_regular_file(none) || isLog != inLog)
            continue;
        std::ifstream in(at->path(), std::ios::binary);
        std::stringstream text;
        text << in.rdbuf();
        const std::string bytes = std::move(text).str();
        for (const auto& word : kWords)
            if (bytes.find(word) != std::string::npos)
                found.insert(fs::relative(at->path(), folder).string() + ": " + word);
    }
    return found;
}

} // namespace

class Forgotten : public OnServer {
protected:
    fs::path data() const { return server().folder() / "data"; }
    std::unique_ptr<storage::Shop> asOwner() {
        const std::string name = "f" + database() + "_owner";
        server().addPerson(name, "shop_owner");
        EXPECT_OK(storage::setUpServer(address(), std::nullopt));
        auto opened = storage::Shop::open(server().address(database(), name));
        EXPECT_OK(opened);
        return opened ? std::move(*opened) : nullptr;
    }
    void fill() {
        std::mt19937_64 random(7); // NOLINT: a fixed seed is the point
        std::string noise;         // does not pack, so that it is kept out of line
        while (noise.size() < 9'000)
            noise += std::to_string(random());
        customer.name = "QORYNNA Wells";
        customer.phones = {"5550888417"};
        customer.emails = {"qorynna@example.org"};
        customer.bestTime = "QORBEST";
        customer.note = "QORNOTE";
        customer = shop().customers().save(customer).value();
        vehicle.plate = "QORPLATE";
        vehicle.note = "QORVEHICLE";
        vehicle = shop().vehicles().save(vehicle).value();
        core::Job job = finishedJob(day(2030, 1, 15), 30'000);
        job.concern = "QORCONCERN " + noise + " QORLONGWORD";
        job.cause = "QORCAUSE";
        job.correction = "QORFIX";
        job = saved(job);
        const core::Job second = saved(finishedJob(day(2031, 4, 9), 50'000));
        ASSERT_OK(shop().jobs().voidJob(second.id, second.revision, "QORVOIDREASON"));
        core::FollowUp call;
        call.job = job.id;
        call.date = day(2030, 1, 20);
        call.outcome = core::FollowUpOutcome::Quiet;
        call.odometer = core::Distance::miles(30'900);
        call.note = "QORCALL";
        call.voidReason = "QORCALLVOID";
        ASSERT_OK(shop().followUps().save(call));
        std::ofstream(place.path() / "p.png", std::ios::binary) << "\x89PNG\r\n\x1A\nQORPICTURE" << noise;
        ASSERT_OK(storage::attachmentsOf(shop()).add(job.id, place.path() / "p.png", "QORPHOTO.png"));
        // As a server does by itself within a day: samples are taken, and everything goes to the disk.
        server().ask(database(), "ANALYZE");
        server().ask(database(), "CHECKPOINT");
    }
    TemporaryFolder place;
};

TEST_F(Forgotten, NoFileOfTheTablesHoldsAWordAndTheLogHoldsThemUntilItIsWrittenOver) {
    // As the manual advises whoever keeps the server; set before, as a log file kept for reuse is not
    // removed.
    server().ask(database(), "ALTER SYSTEM SET wal_recycle = off");
    server().ask(database(), "SELECT pg_reload_conf()");
    for (int i = 0; i < 200 && server().ask(database(), "SHOW wal_recycle") != "off"; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(20)); // the server reads it when it comes to it
    server().ask(database(), "SELECT pg_switch_wal()"); // all that follows has room in one log file
    server().ask(database(), "CHECKPOINT");
    fill();
    const auto before = hits(data(), false);
    for (const auto& word : kWords)
        EXPECT_TRUE(std::ranges::any_of(before, [&](const auto& hit) { return hit.ends_with(": " + word); }))
            << word << " must be there to be missed";
    const auto owner = asOwner();
    ASSERT_NE(owner, nullptr);
    const auto scope = storage::whatForgettingTakes(*owner, customer.id);
    ASSERT_OK(scope);
    EXPECT_TRUE(scope->onServer);
    const auto done = storage::forgetCustomer(*owner, customer.id);
    ASSERT_OK(done);
    EXPECT_FALSE(done->oldRowsLeft);
    server().ask(database(), "CHECKPOINT");
    const auto left = hits(data(), false);
    EXPECT_THAT(left, ::testing::IsEmpty());
    const auto logged = hits(data(), true);
    EXPECT_THAT(logged, ::testing::Not(::testing::IsEmpty()))
        << "the manual says that the log holds them: mend the manual";
    for (int i = 0; i < 2; ++i) {
        server().ask(database(), "SELECT pg_switch_wal()");
        server().ask(database(), "CHECKPOINT");
    }
    const auto leftInLog = hits(data(), true);
    EXPECT_THAT(leftInLog, ::testing::IsEmpty());
    server().ask(database(), "ALTER SYSTEM RESET wal_recycle");
    server().ask(database(), "SELECT pg_reload_conf()");
    EXPECT_TRUE((*owner).verify(storage::CheckDepth::Full)->sound());
    std::cout << "T16 on a server: " << before.size() << " words in its files before; after forgetting "
              << left.size() << " in tables, indexes and samples, " << logged.size()
              << " in the write-ahead log, " << leftInLog.size() << " once it was switched and removed\n";
}

TEST_F(Forgotten, AServerThatCannotWriteItsTablesAnewSaysThatOldRowsAreLeft) {
    fill();
    const auto owner = asOwner();
    ASSERT_NE(owner, nullptr);
    server().ask(database(), "DROP FUNCTION milehold.write_anew(TEXT)"); // as before there was one
    const auto done = storage::forgetCustomer(*owner, customer.id);
    ASSERT_OK(done);
    EXPECT_TRUE(done->oldRowsLeft);
    server().ask(database(), "CHECKPOINT");
    EXPECT_THAT(hits(data() / "base", false), ::testing::Not(::testing::IsEmpty()));
    server().ask(database(), "VACUUM (FULL)"); // the manual's way for the keeper
    server().ask(database(), "CHECKPOINT");
    EXPECT_THAT(hits(data() / "base", false), ::testing::IsEmpty());
}

TEST_F(Forgotten, OnlyAnOwnerHasTablesWrittenAnewAndOnlyThoseOfPeople) {
    EXPECT_OK(storage::setUpServer(address(), std::nullopt));
    for (const std::string role : {"technician", "advisor", "analyst"})
        EXPECT_EQ(server().ask(database(), "SELECT has_function_privilege('shop_" + role +
                                               "', 'milehold.write_anew(text)', 'EXECUTE')::int"),
                  "0")
            << role;
    EXPECT_THROW(server().ask(database(), "SELECT milehold.write_anew('change_log')"), std::runtime_error);
    EXPECT_THROW(server().ask(database(), "SELECT milehold.write_anew('pg_class')"), std::runtime_error);
}

} // namespace milehold::test
