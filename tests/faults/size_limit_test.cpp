// SPDX-License-Identifier: GPL-3.0-or-later
// A disk that is really full: the system itself refuses to let files grow (RLIMIT_FSIZE).
#include "tests/faults/saver.h"
#include "tests/faults/size_limit.h"
#include "tests/storage/support/shop_fixture.h"

#include <csignal>
#include <iostream>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

namespace milehold::test {

int saveUnderASizeLimit(const char* folder) {
    auto shop = storage::Shop::open(folder);
    if (!shop)
        return 10;
    const Bench bench = benchOf(**shop);
    std::signal(SIGXFSZ, SIG_IGN);
    const auto size = fs::file_size(fs::path(folder) / "store" / "shop.db");
    const rlimit limit{static_cast<rlim_t>(size + 200'000), RLIM_INFINITY};
    if (::setrlimit(RLIMIT_FSIZE, &limit) != 0)
        return 11;
    // The shop stays readable, and refuses again without losing anything.
    const auto jobs = saveUntilRefused(**shop, bench);
    if (!jobs || *jobs == 0)
        return 12;
    // A backup that does not fit is not taken for one.
    const rlimit small{static_cast<rlim_t>(size / 2), RLIM_INFINITY};
    if (::setrlimit(RLIMIT_FSIZE, &small) != 0)
        return 16;
    if ((*shop)->backUp(storage::BackupReason::OnDemand))
        return 17;
    const auto backups = (*shop)->backups();
    if (!backups || backups->size() != 1)
        return 18;
    // Room again: the next save succeeds.
    const rlimit all{RLIM_INFINITY, RLIM_INFINITY};
    if (::setrlimit(RLIMIT_FSIZE, &all) != 0)
        return 19;
    if (!(*shop)->jobs().save({benchJob(bench, -2), {}, {}}))
        return 20;
    return (*shop)->close() ? 0 : 21;
}

TEST(FullDisk, ASaveIsRefusedWithTheShopReadableAndSucceedsOnceThereIsRoom) {
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Full.milehold";
    makeBenchShop(folder);
    const std::string path = folder.string();
    const pid_t pid = ::fork();
    if (pid == 0) {
        ::execl("/proc/self/exe", "milehold_fault_tests", "--fill", path.c_str(), nullptr);
        ::_exit(9);
    }
    int status = 0;
    ::waitpid(pid, &status, 0);
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 0) << "the step of the child that went wrong";
    auto shop = storage::Shop::open(folder);
    ASSERT_OK(shop);
    EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
    const auto jobs = (*shop)->jobs().rows({.limit = 100'000})->size();
    ASSERT_OK((*shop)->close());
    EXPECT_EQ(countInFile(folder, "SELECT count(*) FROM job_line"),
              static_cast<std::int64_t>(jobs) * kLinesAJob);
    std::cout << "full disk: " << jobs << " jobs saved, the next refused, none half\n";
}

} // namespace milehold::test
