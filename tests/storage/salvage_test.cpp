// SPDX-License-Identifier: GPL-3.0-or-later
// A damaged shop gives back what is still readable, and the damaged file is kept as it was.
#include "storage/backup.h"
#include "storage/salvage.h"
#include "tests/storage/support/shop_fixture.h"

#include <gmock/gmock.h>

#include <fstream>
#include <iostream>
#include <map>
#include <random>

namespace milehold::test {

using core::ErrorCode;

class Salvage : public ShopTest {
protected:
    static constexpr std::size_t kPage = 4096;
    static constexpr int kJobs = 250;

    void SetUp() override {
        ShopTest::SetUp();
        ASSERT_OK(shop().together([&]() -> core::Result<void> {
            for (int i = 0; i < kJobs; ++i) {
                auto made = shop().jobs().save(
                    {finishedJob(core::addDays(day(2030, 1, 1), i), 20'000 + 100 * i), {}, {}});
                if (!made)
                    return core::failureOf(made);
                jobs_.emplace(made->job.id.uuid, made->job);
            }
            return {};
        }));
        ASSERT_OK(shop().close());
        letGo();
        whole_ = read(database());
        fs::copy(folder() / "backups", kept(), fs::copy_options::recursive);
    }
    /// The backups of the file that is damaged: a round must not lean on those of a shop that was salvaged
    /// before.
    fs::path kept() const { return folder().parent_path() / "kept"; }

    static std::string read(const fs::path& file) {
        std::ifstream in(file, std::ios::binary);
        return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    }
    void write(const std::string& bytes) const {
        std::ofstream(database(), std::ios::binary | std::ios::trunc) << bytes;
    }
    void dropBackups() const {
        fs::remove_all(kept());
        fs::remove_all(folder() / "backups");
    }

    /// Salvages what `bytes` holds: the shop opens, every job in it is one that was saved, and the damaged
    /// file lies aside as it was. Output: how many jobs came back.
    std::size_t salvaged(const std::string& bytes) {
        write(bytes);
        fs::remove_all(folder() / "backups");
        if (fs::exists(kept()))
            fs::copy(kept(), folder() / "backups", fs::copy_options::recursive);
        else
            fs::create_directory(folder() / "backups");
        now += std::chrono::hours(1);
        const auto report = storage::salvageShop(folder(), now);
        EXPECT_OK(report);
        if (!report)
            return 0;
        EXPECT_TRUE(read(report->damaged / "shop.db") == bytes);
        EXPECT_TRUE(fs::exists(report->damaged / "salvage-report.txt"));
        reopen();
        EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
        const auto rows = shop().jobs().rows({.limit = 10'000});
        EXPECT_OK(rows);
        std::size_t right = 0;
        for (const auto& row : *rows) {
            const auto job = shop().jobs().find(row.id);
            EXPECT_OK(job);
            const auto wanted = jobs_.find(row.id.uuid);
            const bool known = job && wanted != jobs_.end();
            EXPECT_TRUE(known);
            if (!known)
                continue;
            // Its parts lie in another table, where they may be lost.
            core::Job bare = wanted->second;
            bare.parts = job->parts;
            EXPECT_EQ(*job, bare);
            ++right;
        }
        EXPECT_EQ(static_cast<std::int64_t>(right), report->jobs());
        EXPECT_OK(shop().jobs().save({finishedJob(day(2031, 4, 20), 90'000), {}, {}})) << "the book goes on";
        EXPECT_OK(shop().close());
        letGo();
        return right;
    }

    std::map<core::Uuid, core::Job> jobs_;
    std::string whole_;
};

TEST_F(Salvage, AWholeFileComesBackWhole) {
    EXPECT_EQ(salvaged(whole_), static_cast<std::size_t>(kJobs));
}

TEST_F(Salvage, ADamagedPageCostsOnlyWhatStoodOnIt) {
    std::mt19937_64 random(20310509); // NOLINT: a fixed seed is the point
    std::size_t least = kJobs;
    std::size_t all = 0;
    constexpr int kRounds = 12;
    for (int round = 0; round < kRounds; ++round) {
        std::string bytes = whole_;
        // Any page but the first, which has a test of its own.
        const auto page = 1 + random() % (bytes.size() / kPage - 1);
        for (std::size_t i = 0; i < kPage; ++i)
            bytes[page * kPage + i] = static_cast<char>(random());
        const auto right = salvaged(bytes);
        least = std::min(least, right);
        all += right;
    }
    std::cout << "salvage: one page of " << whole_.size() / kPage << " overwritten, " << kRounds
              << " times: " << all << " of " << kRounds * kJobs << " jobs back, at least " << least << " of "
              << kJobs << "\n";
    EXPECT_GT(all, kRounds * kJobs * 8U / 10U);
    EXPECT_GT(least, kJobs / 2U) << "no single page costs the book";
}

TEST_F(Salvage, ATornEndCostsOnlyWhatStoodThere) {
    const auto right = salvaged(whole_.substr(0, whole_.size() * 3 / 4));
    std::cout << "salvage: a quarter cut off: " << right << " of " << kJobs << " jobs back\n";
    EXPECT_GT(right, kJobs / 4U) << "their pages lie all over the file";
}

TEST_F(Salvage, ALostHeaderCostsNothing) {
    dropBackups();
    std::string bytes = whole_;
    bytes.replace(0, 100, std::string(100, '\0'));
    EXPECT_EQ(salvaged(bytes), static_cast<std::size_t>(kJobs));
}

TEST_F(Salvage, ALostFirstPageIsTakenFromTheNewestGoodBackup) {
    std::string bytes = whole_;
    bytes.replace(0, kPage, std::string(kPage, '\x5a'));
    EXPECT_EQ(salvaged(bytes), static_cast<std::size_t>(kJobs));
}

TEST_F(Salvage, ALostPageOfTheSchemaIsTakenFromTheNewestGoodBackup) {
    // The schema is a tree of several pages: sqlite.org/fileformat2.html, "B-tree Pages". Its root is page 1.
    ASSERT_EQ(whole_[100], '\x05') << "an interior page, whose cells begin with the number of a page";
    const auto number = [&](std::size_t at, std::size_t count) {
        std::size_t all = 0;
        for (std::size_t i = 0; i < count; ++i)
            all = all << 8U | static_cast<unsigned char>(whole_[at + i]);
        return all;
    };
    for (const std::size_t page : {number(108, 4), number(number(112, 2), 4)}) {
        std::string bytes = whole_;
        bytes.replace((page - 1) * kPage, kPage, std::string(kPage, '\x5a'));
        EXPECT_EQ(salvaged(bytes), static_cast<std::size_t>(kJobs)) << "page " << page;
    }
}

TEST_F(Salvage, RecordsThatSavedOnesNameAreTakenFromTheBackup) {
    // The vehicle of every job is gone; the file itself is sound, so that only references tell.
    runOnFile("PRAGMA foreign_keys = OFF; DELETE FROM vehicle;");
    EXPECT_EQ(salvaged(read(database())), static_cast<std::size_t>(kJobs));
    reopen();
    EXPECT_HOLDS(shop().vehicles().find(vehicle.id), vehicle);
}

TEST_F(Salvage, WithoutABackupAJobOfNoVehicleIsRefusedAndAVehicleOfNoCustomerKept) {
    dropBackups();
    runOnFile("PRAGMA foreign_keys = OFF; DELETE FROM customer;");
    EXPECT_EQ(salvaged(read(database())), static_cast<std::size_t>(kJobs));
    reopen();
    EXPECT_FALSE(shop().vehicles().find(vehicle.id)->customer.has_value());
    ASSERT_OK(shop().close());
    letGo();
    dropBackups();
    runOnFile("PRAGMA foreign_keys = OFF; DELETE FROM vehicle;");
    now += std::chrono::hours(1);
    const auto report = storage::salvageShop(folder(), now);
    ASSERT_OK(report);
    EXPECT_EQ(report->jobs(), 0);
    EXPECT_THAT(report->text(), ::testing::HasSubstr("job: 0 rows saved, 251 refused"));
}

TEST_F(Salvage, AnAlteredLogIsKeptUpToTheBreakAndTheRestLiesAside) {
    runOnFile("DROP TRIGGER change_log_no_update; UPDATE change_log SET station = 'x' WHERE seq = 40;");
    write(read(database()));
    const auto report = storage::salvageShop(folder(), now);
    ASSERT_OK(report);
    EXPECT_EQ(report->logKept, 39);
    EXPECT_GT(report->logAside, kJobs);
    EXPECT_TRUE(fs::exists(report->damaged / "change-log-rest.csv"));
    reopen();
    EXPECT_HOLDS(shop().changeLog().firstBroken(), std::optional<std::int64_t>());
}

TEST_F(Salvage, WhatHoldsNothingReadableIsLeftWhereItIs) {
    dropBackups();
    write(std::string(60'000, 'x'));
    EXPECT_FAILS(storage::salvageShop(folder(), now), ErrorCode::Unreadable);
    EXPECT_TRUE(read(database()) == std::string(60'000, 'x'));
    fs::remove(database());
    EXPECT_FAILS(storage::salvageShop(folder(), now), ErrorCode::NotFound);
}

} // namespace milehold::test
