// SPDX-License-Identifier: GPL-3.0-or-later
// A program that is killed loses no job that it has shown as saved, and leaves none half saved.
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <chrono>
#include <iostream>
#include <random>
#include <signal.h>
#include <sstream>
#include <string>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>
#include <vector>

namespace milehold::test {

namespace {

constexpr int kCycles = 100;

struct Child {
    pid_t pid = -1;
    int output = -1;
};

Child startSaver(const fs::path& folder) {
    int ends[2] = {-1, -1};
    EXPECT_EQ(::pipe(ends), 0);
    const std::string path = folder.string();
    const pid_t pid = ::fork();
    if (pid == 0) {
        ::dup2(ends[1], STDOUT_FILENO);
        ::close(ends[0]);
        ::close(ends[1]);
        ::execl("/proc/self/exe", "milehold_fault_tests", "--save", path.c_str(), nullptr);
        ::_exit(9);
    }
    ::close(ends[1]);
    return {pid, ends[0]};
}

/// Waits for the first word of the child, lets it go on for so long, kills it, and returns all that it said.
std::string killAfter(const Child& child, std::chrono::microseconds later) {
    std::string said(4096, '\0');
    const auto first = ::read(child.output, said.data(), said.size());
    said.resize(static_cast<std::size_t>(std::max<ssize_t>(first, 0)));
    std::this_thread::sleep_for(later);
    ::kill(child.pid, SIGKILL);
    char block[4096];
    for (ssize_t got = 0; (got = ::read(child.output, block, sizeof block)) > 0;)
        said.append(block, static_cast<std::size_t>(got));
    ::close(child.output);
    int status = 0;
    ::waitpid(child.pid, &status, 0);
    EXPECT_TRUE(WIFSIGNALED(status)) << "the child ended by itself with " << WEXITSTATUS(status);
    return said;
}

} // namespace

TEST(KilledProgram, LosesNoJobThatItHasShownAsSavedAndLeavesNoneHalf) {
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Killed.milehold";
    makeBenchShop(folder);
    const auto seed = std::random_device()();
    std::mt19937_64 random(seed);
    std::vector<std::pair<std::int64_t, core::JobId>> acknowledged;
    std::chrono::duration<double> slowest{};
    int hotJournals = 0;
    int broken = 0;
    for (int cycle = 0; cycle < kCycles; ++cycle) {
        const auto said = killAfter(startSaver(folder), std::chrono::microseconds(random() % 30'000));
        std::istringstream lines(said.substr(0, said.rfind('\n') + 1));
        std::int64_t number = 0;
        std::string id;
        while (lines >> number >> id)
            acknowledged.emplace_back(number, core::JobId{core::uuidFromString(id).value()});
        std::error_code none;
        const auto journal = fs::file_size(folder / "store" / "shop.db-journal", none);
        hotJournals += !none && journal > 0 ? 1 : 0;

        const auto start = std::chrono::steady_clock::now();
        auto shop = storage::Shop::open(folder); // checks in full, as it was never closed
        slowest = std::max<std::chrono::duration<double>>(slowest, std::chrono::steady_clock::now() - start);
        if (!shop) {
            ++broken;
            ADD_FAILURE() << "seed " << seed << ", cycle " << cycle << ": " << shop.error().detail;
            break;
        }
        const auto job = (*shop)->jobs().find(acknowledged.back().second);
        EXPECT_TRUE(job.has_value());
        if (job) {
            EXPECT_EQ(job->number, acknowledged.back().first);
        }
        EXPECT_OK((*shop)->drafts().find("job"));
    }
    ASSERT_EQ(broken, 0);
    int lost = 0;
    {
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop);
        for (const auto& [number, id] : acknowledged) {
            const auto job = (*shop)->jobs().find(id);
            lost += job && job->number == number && job->lines.size() == 2 && job->parts.size() == 2 ? 0 : 1;
        }
        EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
        ASSERT_OK((*shop)->close());
    }
    const auto jobs = countInFile(folder, "SELECT count(*) FROM job");
    const auto half = std::abs(countInFile(folder, "SELECT count(*) FROM job_line") - jobs * kLinesAJob) +
                      std::abs(countInFile(folder, "SELECT count(*) FROM job_part") - jobs * kPartsAJob) +
                      std::abs(countInFile(folder, "SELECT count(*) FROM job_code") - jobs * kCodesAJob) +
                      std::abs(countInFile(folder, "SELECT count(*) FROM odometer") - jobs * kReadingsAJob);
    std::cout << kCycles << " kills (seed " << seed << "): " << acknowledged.size() << " jobs acknowledged, "
              << lost << " lost, " << half << " rows of half jobs, " << hotJournals
              << " kills inside a commit, slowest open with the full check " << slowest.count() << " s\n";
    EXPECT_EQ(lost, 0);
    EXPECT_EQ(half, 0);
    EXPECT_GE(jobs, static_cast<std::int64_t>(acknowledged.size()));
    EXPECT_EQ(countInFile(folder, "SELECT max(number) FROM job"), jobs) << "numbers without gaps";
}

} // namespace milehold::test
