// SPDX-License-Identifier: GPL-3.0-or-later
// A shop of many years: opened, checked, backed up and saved into. Times are printed; only a hang fails.
#include "tests/faults/children.h"
#include "tests/faults/many_jobs.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <algorithm>
#include <chrono>
#include <iostream>

namespace milehold::test {

namespace {

using Clock = std::chrono::steady_clock;

double secondsSince(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

} // namespace

TEST(LargeShop, OpensChecksBacksUpAndSavesInTime) {
    const int jobs = timesFrom("MILEHOLD_LARGE_JOBS", 100'000);
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Large.milehold";
    const Bench bench = makeBenchShop(folder);
    {
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop);
        ASSERT_OK((*shop)->jobs().save({benchJob(bench, 1), {}, {}}));
        ASSERT_OK((*shop)->close());
    }
    auto start = Clock::now();
    multiplyJobs(folder / "store" / "shop.db", jobs);
    const double written = secondsSince(start);
    start = Clock::now();
    auto shop = storage::Shop::open(folder);
    const double opened = secondsSince(start);
    ASSERT_OK(shop);
    start = Clock::now();
    const auto report = (*shop)->verify(storage::CheckDepth::Full);
    const double checked = secondsSince(start);
    ASSERT_OK(report);
    EXPECT_TRUE(report->sound()) << report->problems.front();
    start = Clock::now();
    const auto backup = (*shop)->backUp(storage::BackupReason::OnDemand);
    const double backedUp = secondsSince(start);
    ASSERT_OK(backup);
    EXPECT_EQ(backup->jobs(), jobs);
    std::vector<double> saves;
    for (int i = 0; i < 100; ++i) {
        start = Clock::now();
        ASSERT_OK((*shop)->jobs().save({benchJob(bench, i), {}, {}}));
        saves.push_back(secondsSince(start) * 1000);
    }
    std::ranges::sort(saves);
    std::cout << jobs << " jobs, " << (backup->bytes >> 20U) << " MiB (laid out in " << written
              << " s): open " << opened << " s, full check " << checked << " s, backup with its check "
              << backedUp << " s, save p99 " << saves[98] << " ms\n";
    EXPECT_LT(opened, 20.0);
    EXPECT_LT(checked, 60.0);
    EXPECT_LT(backedUp, 60.0);
}

} // namespace milehold::test
