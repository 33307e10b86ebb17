// SPDX-License-Identifier: GPL-3.0-or-later
// A disk of a few megabytes that runs full beneath each part of a shop in turn: a real file system (tmpfs),
// mounted for one child alone.
#include "storage/backup_shelf.h"
#include "tests/faults/children.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <fstream>
#include <iostream>
#include <sched.h>
#include <sys/mount.h>
#include <sys/statvfs.h>

namespace milehold::test {

namespace {

/// Puts a small disk where `folder` is, with what the folder held; seen by this process alone. False: not
/// permitted.
bool mountSmallDisk(const fs::path& folder) {
    if (::unshare(CLONE_NEWNS) != 0 || ::mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0)
        return false;
    const fs::path aside = folder.parent_path() / "aside";
    fs::rename(folder, aside);
    fs::create_directory(folder);
    if (::mount("tmpfs", folder.c_str(), "tmpfs", 0, "size=4m,mode=0700") != 0)
        return false;
    fs::copy(aside, folder, fs::copy_options::recursive);
    return true;
}

/// Leaves so many bytes free.
fs::path fillUp(const fs::path& folder, std::size_t left) {
    struct statvfs facts {};
    EXPECT_EQ(::statvfs(folder.c_str(), &facts), 0);
    const std::size_t room = facts.f_bavail * facts.f_frsize;
    const fs::path filler = folder / "filler";
    std::ofstream(filler, std::ios::binary) << std::string(room > left ? room - left : 0, 'x');
    return filler;
}

bool allVerify(const fs::path& folder, std::size_t count) {
    const auto backups = storage::listBackups(folder);
    if (!backups || backups->size() != count)
        return false;
    for (const auto& backup : *backups) {
        if (backup.bytes == 0 || !storage::verifyBackup(backup))
            return false;
    }
    return true;
}

int fillStore(storage::Shop& shop, const Bench& bench, const fs::path& filler) {
    const auto saved = saveUntilRefused(shop, bench);
    if (!saved || *saved == 0)
        return 20;
    const std::size_t jobs = *saved;
    // The copies lie elsewhere: they hold what was saved, and nothing of what was refused.
    const auto backup = shop.backUp(storage::BackupReason::OnDemand);
    if (!backup || backup->jobs() != static_cast<std::int64_t>(jobs) || !storage::verifyBackup(*backup))
        return 24;
    fs::remove(filler);
    if (!shop.jobs().save({benchJob(bench, -2), {}, {}}) || !hasJobs(shop, jobs + 1))
        return 25;
    return shop.close() ? 0 : 26;
}

int fillBackups(storage::Shop& shop, const Bench& bench, const fs::path& filler) {
    const auto before = shop.backups();
    if (!before || before->empty())
        return 30;
    for (std::int64_t mark = 0; mark < 20; ++mark) {
        if (!shop.jobs().save({benchJob(bench, mark), {}, {}})) // saving needs no room there
            return 31;
    }
    const auto refused = shop.backUp(storage::BackupReason::OnDemand);
    if (refused || refused.error().code != core::ErrorCode::DiskProblem)
        return 32;
    if (!allVerify(shop.folder(), before->size()) || !hasJobs(shop, 20))
        return 33;
    // Nothing half made stays behind to take the last room.
    for (const auto& entry : fs::directory_iterator(shop.folder() / "backups")) {
        if (entry.path().filename().string().starts_with("tmp-"))
            return 34;
    }
    fs::remove(filler);
    const auto made = shop.backUp(storage::BackupReason::OnDemand);
    if (!made || made->jobs() != 20 || !allVerify(shop.folder(), before->size() + 1))
        return 35;
    // Full again at the end: closing says that its backup failed, and the book is whole.
    const fs::path again = fillUp(shop.folder() / "backups", 0);
    if (!shop.jobs().save({benchJob(bench, 21), {}, {}}) || shop.close())
        return 36;
    return allVerify(shop.folder(), before->size() + 1) ? 0 : 37;
}

int fillLogs(storage::Shop& shop, const Bench& bench) {
    if (!shop.jobs().save({benchJob(bench, 1), {}, {}}) || !hasJobs(shop, 1))
        return 40;
    const auto backup = shop.backUp(storage::BackupReason::OnDemand);
    if (!backup || backup->jobs() != 1 || !storage::verifyBackup(*backup))
        return 41;
    return shop.close() ? 0 : 42;
}

class FullPart : public ::testing::TestWithParam<const char*> {};

} // namespace

int fillDisk(const char* folder, const char* place) {
    const fs::path part = fs::path(folder) / place;
    if (!mountSmallDisk(part))
        return kMayNotMount;
    auto shop = storage::Shop::open(folder);
    if (!shop)
        return 10;
    const Bench bench = benchOf(**shop);
    const fs::path filler = fillUp(part, std::string_view(place) == "store" ? 300'000 : 0);
    if (std::string_view(place) == "store")
        return fillStore(**shop, bench, filler);
    if (std::string_view(place) == "backups")
        return fillBackups(**shop, bench, filler);
    return fillLogs(**shop, bench);
}

TEST_P(FullPart, LeavesTheShopReadableAndNoBackupThatIsNone) {
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Full.milehold";
    makeBenchShop(folder);
    const int outcome = waitFor(startChild({"--full", folder.string(), GetParam()}));
    if (outcome == kMayNotMount)
        GTEST_SKIP() << "this user may not mount a small disk (unshare, mount): the part stays untried here";
    EXPECT_EQ(outcome, 0) << "the step of the child that went wrong";
    std::cout << "full disk beneath " << GetParam() << ": 4 MiB, refused and readable, then whole again\n";
}

INSTANTIATE_TEST_SUITE_P(Parts, FullPart, ::testing::Values("store", "backups", "logs"),
                         [](const auto& part) { return std::string(part.param); });

} // namespace milehold::test
