// SPDX-License-Identifier: GPL-3.0-or-later
// Photos of jobs in a shop on a server: seen at every station, kept by the server's rights, carried by its
// dumps.
#include "storage/attachment_store.h"
#include "storage/server/setup_server.h"
#include "tests/server/on_server.h"

#include <gmock/gmock.h>

#include <array>
#include <atomic>
#include <fstream>
#include <functional>
#include <iostream>
#include <random>
#include <sstream>
#include <thread>

namespace milehold::test {

using core::ErrorCode;

class AttachmentsOnServer : public OnServer {
protected:
    void SetUp() override {
        OnServer::SetUp();
        job = saved(finishedJob());
        std::ofstream(place.path() / "a.png", std::ios::binary) << bytes();
    }
    /// What comes next may kill the server: it should not have to go through so many bytes again.
    void TearDown() override {
        server().ask(database(), "CHECKPOINT");
        OnServer::TearDown();
    }
    static std::string bytes() {
        std::string text = "\x89PNG\r\n\x1A\n";
        for (int i = 0; text.size() < 600'000; ++i)
            text += static_cast<char>(i * 17 + i / 257);
        return text;
    }
    static std::string read(const fs::path& file) {
        std::ifstream in(file, std::ios::binary);
        std::ostringstream text;
        text << in.rdbuf();
        return text.str();
    }
    std::unique_ptr<storage::Shop> as(const std::string& role) {
        const std::string name = "a" + database() + "_" + role;
        server().addPerson(name, "shop_" + role);
        EXPECT_OK(storage::setUpServer(address(), std::nullopt));
        auto opened = storage::Shop::open(server().address(database(), name));
        EXPECT_OK(opened);
        return opened ? std::move(*opened) : nullptr;
    }
    core::Job job;
    TemporaryFolder place;
};

TEST_F(AttachmentsOnServer, AreAddedByATechnicianSeenElsewhereAndTakenAwayByAnAdvisorAlone) {
    const auto bay = as("technician");
    ASSERT_NE(bay, nullptr);
    const auto added = storage::attachmentsOf(*bay).add(job.id, place.path() / "a.png", "before");
    ASSERT_OK(added);
    const auto advisor = as("advisor");
    ASSERT_NE(advisor, nullptr);
    const auto copy = storage::attachmentsOf(*advisor).copyToRead(added->id, place.path());
    ASSERT_OK(copy);
    EXPECT_TRUE(read(*copy) == bytes());
    EXPECT_FAILS(storage::attachmentsOf(*bay).remove(added->id), ErrorCode::ReadOnly);
    EXPECT_FAILS(storage::sweepUnnamed(*bay, core::momentFromIso("2031-05-01T10:42:07.125Z").value()),
                 ErrorCode::ReadOnly);
    for (const auto* table : {"attachment_file", "attachment_block"}) {
        for (const auto* role : {"technician", "advisor", "owner", "analyst"}) {
            const auto may = [&](const std::string& right) {
                return server().ask(database(), "SELECT has_table_privilege('shop_" + std::string(role) +
                                                    "', 'milehold." + table + "', '" + right + "')::int") ==
                       "1";
            };
            const bool isAnalyst = role == std::string("analyst");
            EXPECT_FALSE(may("UPDATE")) << role;
            EXPECT_FALSE(may("TRUNCATE")) << role;
            EXPECT_EQ(may("SELECT"), !isAnalyst) << role;
            EXPECT_EQ(may("INSERT"), !isAnalyst) << role;
            EXPECT_EQ(may("DELETE"), role == std::string("advisor") || role == std::string("owner")) << role;
        }
    }
    ASSERT_OK(storage::attachmentsOf(*advisor).remove(added->id));
    EXPECT_TRUE(storage::attachmentsOf(*bay).ofJob(job.id)->empty());
}

TEST_F(AttachmentsOnServer, AreInADumpAndWholeAgainWhereItIsRestored) {
    const auto added = storage::attachmentsOf(shop()).add(job.id, place.path() / "a.png", "before");
    ASSERT_OK(added);
    const QString dump = QString::fromStdString((place.path() / "night.dump").string());
    const auto run = [](const QString& program, const QStringList& arguments) {
        QProcess process;
        process.start(program, arguments);
        EXPECT_TRUE(process.waitForFinished(60'000)) << program.toStdString();
        EXPECT_EQ(process.exitCode(), 0) << process.readAllStandardError().toStdString();
    };
    run(QStringLiteral("pg_dump"),
        {QStringLiteral("-Fc"), QStringLiteral("-f"), dump, QString::fromStdString(address())});
    const std::string again = server().makeDatabase();
    server().ask(again.substr(again.rfind('/') + 1),
                 "SET client_min_messages TO error; DROP SCHEMA milehold CASCADE");
    run(QStringLiteral("pg_restore"), {QStringLiteral("-d"), QString::fromStdString(again), dump});
    const auto restored = storage::Shop::open(again);
    ASSERT_OK(restored);
    const auto copy = storage::attachmentsOf(**restored).copyToRead(added->id, place.path());
    ASSERT_OK(copy);
    EXPECT_TRUE(read(*copy) == bytes());
    EXPECT_TRUE((*restored)->verify(storage::CheckDepth::Full)->sound());
}

TEST_F(AttachmentsOnServer, TheSameFromTwoStationsAtOnceIsOne) {
    std::array<std::string, 2> problems;
    const auto station = [&](const char* name, std::string& problem) {
        auto opened = storage::Shop::open(address());
        if (!opened) {
            problem = opened.error().detail;
            return;
        }
        const auto added = storage::attachmentsOf(**opened).add(job.id, place.path() / "a.png", name);
        if (!added)
            problem = added.error().detail;
    };
    std::thread first(station, "first", std::ref(problems[0]));
    std::thread second(station, "second", std::ref(problems[1]));
    first.join();
    second.join();
    EXPECT_EQ(problems[0], "");
    EXPECT_EQ(problems[1], "");
    EXPECT_EQ(storage::attachmentsOf(shop()).ofJob(job.id)->size(), 1U);
    EXPECT_EQ(count("SELECT count(*) FROM milehold.attachment_file"), 1);
    EXPECT_HOLDS(storage::attachmentsOf(shop()).check(), std::vector<std::string>());
}

TEST_F(AttachmentsOnServer, AnUploadHoldsNobodyElseUp) {
    std::string large = bytes();
    while (large.size() < 20'000'000)
        large += large;
    std::ofstream(place.path() / "large.png", std::ios::binary) << large;
    std::atomic<bool> done = false;
    std::thread upload([&] {
        auto opened = storage::Shop::open(address());
        EXPECT_TRUE(opened &&
                    storage::attachmentsOf(**opened).add(job.id, place.path() / "large.png", "large"));
        done = true;
    });
    std::chrono::milliseconds longest{0};
    int saves = 0;
    const auto began = std::chrono::steady_clock::now();
    while (!done) {
        const auto before = std::chrono::steady_clock::now();
        customer.note = "save " + std::to_string(++saves);
        auto kept = shop().customers().save(customer);
        EXPECT_OK(kept);
        customer = *kept;
        longest = std::max(longest, std::chrono::duration_cast<std::chrono::milliseconds>(
                                        std::chrono::steady_clock::now() - before));
    }
    upload.join();
    std::cout << "while 20 MB went up in "
              << std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::steady_clock::now() -
                                                                       began)
                     .count()
              << " ms another station saved " << saves << " times, the slowest in " << longest.count()
              << " ms\n";
    EXPECT_GT(saves, 2);
    EXPECT_LT(longest.count(), 1'000);
}

TEST_F(AttachmentsOnServer, AnUploadThatIsCutOffLeavesNothingHalf) {
    const int rounds = manyOrFew(200, 15);
    const auto seed = std::random_device()();
    std::mt19937_64 random(seed);
    int cut = 0;
    std::string photo = bytes();
    while (photo.size() < 5'000'000)
        photo += photo;
    for (int round = 0; round < rounds; ++round) {
        const fs::path file = place.path() / ("cut" + std::to_string(round) + ".png");
        std::ofstream(file, std::ios::binary) << photo << round;
        std::atomic<bool> kept = false;
        std::thread upload([&] {
            auto opened = storage::Shop::open(address());
            kept = opened && storage::attachmentsOf(**opened).add(job.id, file, "cut").has_value();
        });
        std::this_thread::sleep_for(std::chrono::milliseconds(20 + random() % 2'000));
        server().ask(database(),
                     "SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity WHERE datname = "
                     "current_database() AND application_name = 'milehold records'");
        upload.join();
        cut += kept ? 0 : 1;
        fs::remove(file);
        ASSERT_EQ(count("SELECT count(*) FROM milehold.attachment_file f WHERE size <> (SELECT "
                        "coalesce(sum(length(bytes)), "
                        "0) FROM milehold.attachment_block b WHERE b.sha256 = f.sha256)"),
                  0)
            << "seed " << seed << ", round " << round;
        ASSERT_EQ(count("SELECT count(*) FROM milehold.attachment a WHERE NOT EXISTS (SELECT 1 FROM "
                        "milehold.attachment_file f WHERE f.sha256 = a.sha256)"),
                  0)
            << "seed " << seed << ", round " << round;
    }
    auto after = storage::Shop::open(address());
    ASSERT_OK(after);
    EXPECT_HOLDS(storage::attachmentsOf(**after).check(), std::vector<std::string>());
    std::cout << rounds << " uploads of 5 MB (seed " << seed << "), " << cut
              << " cut off by the server: no row without its file, no file in part\n";
    EXPECT_GT(cut, 0);
}

} // namespace milehold::test
