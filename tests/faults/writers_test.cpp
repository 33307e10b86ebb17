// SPDX-License-Identifier: GPL-3.0-or-later
// Several processes at one file, with the guard that keeps the second one out left aside: the engine's own
// locks hold.
#include "tests/faults/children.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <chrono>
#include <iostream>

namespace milehold::test {

TEST(SeveralWriters, LoseNoJobAndGiveNoNumberTwice) {
    constexpr int kWriters = 8;
    const int jobs = timesFrom("MILEHOLD_JOBS_A_WRITER", 15);
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Crowded.milehold";
    makeBenchShop(folder);
    const auto start = std::chrono::steady_clock::now();
    std::vector<Child> writers;
    for (int i = 0; i < kWriters; ++i)
        writers.push_back(startChild({"--beside", folder.string(), std::to_string(jobs)}));
    for (const auto& writer : writers)
        EXPECT_EQ(waitFor(writer), 0) << "the step of the child that went wrong";
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    const std::int64_t all = std::int64_t{kWriters} * jobs;
    EXPECT_EQ(countInFile(folder, "SELECT count(*) FROM job"), all);
    EXPECT_EQ(countInFile(folder, "SELECT count(DISTINCT number) FROM job"), all);
    EXPECT_EQ(countInFile(folder, "SELECT max(number) FROM job"), all) << "numbers without gaps";
    EXPECT_EQ(countInFile(folder, "SELECT count(*) FROM job_line"), all * kLinesAJob);
    auto shop = storage::Shop::open(folder);
    ASSERT_OK(shop);
    EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
    std::cout << kWriters << " processes: " << all << " jobs in " << took.count()
              << " s, no number twice, no gap, the change log whole\n";
}

TEST(SeveralWriters, ASecondProgramIsRefusedEachTime) {
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Held.milehold";
    makeBenchShop(folder);
    auto shop = storage::Shop::open(folder);
    ASSERT_OK(shop);
    int refused = 0;
    for (int i = 0; i < 20; ++i)
        refused += waitFor(startChild({"--save", folder.string()})) == 3 ? 1 : 0; // 3: could not open
    EXPECT_EQ(refused, 20);
    std::cout << "second program refused " << refused << " of 20 times\n";
}

} // namespace milehold::test
