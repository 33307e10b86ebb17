// SPDX-License-Identifier: GPL-3.0-or-later
// Every file operation of a flow fails in turn, once and for good: nothing is lost, nothing is left half.
#include "storage/backup_shelf.h"
#include "storage/exchange/records_file.h"
#include "storage/shop_open.h"
#include "tests/faults/children.h"
#include "tests/faults/fault_vfs.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <array>
#include <functional>
#include <iostream>

namespace milehold::test {

using core::ErrorCode;

namespace {

constexpr std::array kFaults = {Fault::Full,     Fault::Write,  Fault::Sync,
                                Fault::Truncate, Fault::Delete, Fault::Read};
constexpr int kMostPoints = 2'000;

class FaultyDiskTest : public ::testing::Test {
protected:
    void SetUp() override {
        FaultyDisk::install();
        bench_ = makeBenchShop(model_);
    }
    void TearDown() override { FaultyDisk::disarm(); }

    fs::path folder() const { return temporary_.path() / "Faulty.milehold"; }
    /// A fresh copy of the model shop for the next point.
    void freshCopy() const {
        fs::remove_all(folder());
        fs::copy(model_, folder(), fs::copy_options::recursive);
        fs::remove(folder() / "app.lock");
    }
    /// Runs a flow at every point of every kind of fault until a run in which none struck.
    /// `flow` gets whether the fault is for good, arms nothing and returns when the flow is over.
    /// `stride`: every so many points only, for flows that take long; MILEHOLD_EVERY_POINT takes all.
    int atEveryPoint(const std::function<void(const std::function<void()>& arm)>& flow, int stride = 1) {
        const int step = timesFrom("MILEHOLD_EVERY_POINT", 0) > 0 ? 1 : stride;
        int points = 0;
        for (const Fault fault : kFaults) {
            for (const bool forGood : {false, true}) {
                for (int at = 1; at <= kMostPoints; at += step) {
                    SCOPED_TRACE("fault " + std::to_string(static_cast<int>(fault)) + " at " +
                                 std::to_string(at) + (forGood ? " for good" : " once"));
                    freshCopy();
                    bool hit = false;
                    flow([&] { FaultyDisk::arm(fault, at, forGood); });
                    hit = FaultyDisk::hasStruck();
                    FaultyDisk::disarm();
                    if (!hit)
                        break;
                    ++points;
                    if (HasFailure())
                        return points;
                }
            }
        }
        return points;
    }
    /// Opens the shop as after a crash, with its full check, and lets go of it again.
    void expectSound() const {
        auto shop = storage::Shop::open(folder());
        ASSERT_OK(shop);
        const auto report = (*shop)->verify(storage::CheckDepth::Full);
        ASSERT_OK(report);
        EXPECT_TRUE(report->sound());
    }
    void expectNoHalfJob() const {
        const auto jobs = countInFile(folder(), "SELECT count(*) FROM job");
        EXPECT_EQ(countInFile(folder(), "SELECT count(*) FROM job_line"), jobs * kLinesAJob);
        EXPECT_EQ(countInFile(folder(), "SELECT count(*) FROM job_part"), jobs * kPartsAJob);
        EXPECT_EQ(countInFile(folder(), "SELECT count(*) FROM odometer"), jobs * kReadingsAJob);
        EXPECT_EQ(countInFile(folder(), "SELECT count(*) FROM change_log WHERE table_name = 'job'"), jobs);
    }

    TemporaryFolder temporary_;
    fs::path model_ = temporary_.path() / "Model.milehold";
    Bench bench_;
};

} // namespace

TEST_F(FaultyDiskTest, ASaveIsWholeOrNotAtAllAndCanBeTriedAgain) {
    int savedDespite = 0;
    int refused = 0;
    int unknown = 0;
    const int points = atEveryPoint([&](const auto& arm) {
        auto shop = storage::Shop::open(folder());
        ASSERT_OK(shop);
        ASSERT_OK((*shop)->jobs().save({benchJob(bench_, 1), {}, {}}));
        const core::Job job = benchJob(bench_, 2);
        arm();
        auto saved = (*shop)->jobs().save({job, {}, {}});
        FaultyDisk::disarm();
        savedDespite += saved && FaultyDisk::hasStruck() ? 1 : 0;
        if (!saved) {
            unknown += saved.error().code == ErrorCode::OutcomeUnknown ? 1 : 0;
            ++refused;
            // The disk is well again: what was told as not saved is not there, and the same save succeeds.
            const auto found = (*shop)->jobs().find(job.id);
            if (saved.error().code != ErrorCode::OutcomeUnknown) {
                EXPECT_FAILS(found, ErrorCode::NotFound);
            }
            if (!found) {
                ASSERT_OK((*shop)->jobs().save({job, {}, {}}));
            }
        }
        EXPECT_OK((*shop)->jobs().find(job.id));
        EXPECT_EQ((*shop)->jobs().rows({})->size(), 2U);
        shop->reset();
        expectSound();
        expectNoHalfJob();
    });
    std::cout << "save: " << points << " points of failure, " << refused << " saves refused, " << savedDespite
              << " saved all the same, " << unknown << " told as unknown; 0 half jobs, 0 lost\n";
    EXPECT_GT(points, 100);
}

TEST_F(FaultyDiskTest, ABackupIsVerifiedOrNotThere) {
    int made = 0;
    const int points = atEveryPoint([&](const auto& arm) {
        auto shop = storage::Shop::open(folder());
        ASSERT_OK(shop);
        ASSERT_OK((*shop)->jobs().save({benchJob(bench_, 1), {}, {}}));
        arm();
        const auto backup = (*shop)->backUp(storage::BackupReason::OnDemand);
        FaultyDisk::disarm();
        made += backup ? 1 : 0;
        const auto listed = (*shop)->backups();
        ASSERT_OK(listed);
        EXPECT_EQ(listed->size(), backup ? 2U : 1U); // the model shop was closed with one
        for (const auto& one : *listed)
            EXPECT_OK(storage::verifyBackup(one));
        EXPECT_OK((*shop)->jobs().save({benchJob(bench_, 2), {}, {}}));
        EXPECT_OK((*shop)->backUp(storage::BackupReason::OnDemand));
        shop->reset();
        expectSound();
    });
    std::cout << "backup: " << points << " points of failure, " << made
              << " backups made all the same, all verified\n";
    EXPECT_GT(points, 50);
}

TEST_F(FaultyDiskTest, AMigrationIsDoneOrNotBegun) {
    auto steps = storage::builtInMigrations("sqlite").value();
    const auto released = static_cast<std::int64_t>(steps.size());
    steps.push_back(storage::parseMigration("000" + std::to_string(released + 1) + "_later.sql",
                                            "CREATE TABLE tool (id TEXT PRIMARY KEY NOT NULL) STRICT\n"
                                            "-- next\nUPDATE vehicle SET note = 'migrated'\n-- next\n"
                                            "ALTER TABLE job ADD COLUMN bay TEXT NOT NULL DEFAULT ''")
                        .value());
    int done = 0;
    const int points = atEveryPoint([&](const auto& arm) {
        arm();
        {
            auto opened = storage::openShop({folder()}, {}, steps);
            done += opened ? 1 : 0;
        }
        FaultyDisk::disarm();
        const auto version = countInFile(folder(), "PRAGMA user_version");
        EXPECT_TRUE(version == released || version == released + 1) << version;
        const bool isNew = version == released + 1;
        EXPECT_EQ(countInFile(folder(), "SELECT count(*) FROM sqlite_schema WHERE name = 'tool'"),
                  isNew ? 1 : 0);
        EXPECT_EQ(countInFile(folder(), "SELECT count(*) FROM vehicle WHERE note = 'migrated'"),
                  isNew ? 1 : 0);
        if (isNew) {
            EXPECT_EQ(storage::listBackups(folder())->front().reason, storage::BackupReason::BeforeMigration);
        }
        auto again = storage::openShop({folder()}, {}, steps);
        ASSERT_OK(again);
    });
    std::cout << "migration: " << points << " points of failure, " << done
              << " finished all the same, 0 half\n";
    EXPECT_GT(points, 100);
}

TEST_F(FaultyDiskTest, ARestoreIsDoneOrTheShopIsAsItWas) {
    int restored = 0;
    const int points = atEveryPoint(
        [&](const auto& arm) {
            std::optional<storage::BackupInfo> backup = storage::newestGoodBackup(folder());
            ASSERT_TRUE(backup.has_value());
            {
                auto shop = storage::Shop::open(folder());
                ASSERT_OK(shop);
                ASSERT_OK((*shop)->jobs().save({benchJob(bench_, 1), {}, {}}));
                ASSERT_OK((*shop)->close());
            }
            arm();
            const auto done = storage::restoreBackup(folder(), *backup);
            FaultyDisk::disarm();
            restored += done ? 1 : 0;
            EXPECT_EQ(countInFile(folder(), "SELECT count(*) FROM job"), done ? 0 : 1);
            expectSound();
        },
        5);
    std::cout << "restore: " << points << " points of failure, " << restored
              << " restored all the same, the others with the shop as it was\n";
    EXPECT_GT(points, 10);
}

TEST_F(FaultyDiskTest, AnImportIsKeptWholeOrNotAtAll) {
    int kept = 0;
    const int points = atEveryPoint(
        [&](const auto& arm) {
            auto shop = storage::Shop::open(folder());
            ASSERT_OK(shop);
            arm();
            const auto report = storage::importRecords(
                **shop, storage::RecordFile::Customers,
                storage::bytesOf("name,phones\nOskar Lind,555-0100\nIda Berg,555-0101\n"), "people.csv", {});
            FaultyDisk::disarm();
            const bool told = report && report->kept;
            kept += told ? 1 : 0;
            shop->reset();
            const auto people = countInFile(folder(), "SELECT count(*) FROM customer");
            const bool unknown = !report && report.error().code == ErrorCode::OutcomeUnknown;
            EXPECT_TRUE(people == (told ? 2 : 0) || (unknown && people == 2)) << people;
            EXPECT_EQ(countInFile(folder(), "SELECT count(*) FROM customer_phone"), people);
            expectSound();
        },
        2);
    std::cout << "import: " << points << " points of failure, " << kept << " kept all the same, 0 half\n";
    EXPECT_GT(points, 30);
}

} // namespace milehold::test
