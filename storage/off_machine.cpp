// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/off_machine.h"

#include "storage/backup_shelf.h"
#include "storage/database/hash.h"
#include "storage/files/attachment_copies.h"
#include "storage/files/backup_writer.h"
#include "storage/files/durable.h"
#include "storage/files/shop_folder.h"
#include "storage/files/temporary_folder.h"
#include "storage/make_id.h"
#include "storage/shop.h"
#include "storage/shop_care.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

bool isInside(const fs::path& place, const fs::path& folder) {
    std::error_code problem;
    const fs::path inner = fs::weakly_canonical(place, problem);
    const fs::path outer = fs::weakly_canonical(folder, problem);
    const auto [end, ignored] = std::mismatch(outer.begin(), outer.end(), inner.begin(), inner.end());
    return end == outer.end();
}

bool onSameDisk(const fs::path& one, const fs::path& other) {
    struct stat first {};
    struct stat second {};
    return ::stat(one.c_str(), &first) == 0 && ::stat(other.c_str(), &second) == 0 &&
           first.st_dev == second.st_dev;
}

/// What was just written is dropped from the system's memory, so that reading it again asks the disk.
void forgetCached(const fs::path& file) {
    const int descriptor = ::open(file.c_str(), O_RDONLY | O_CLOEXEC);
    if (descriptor < 0)
        return;
    ::posix_fadvise(descriptor, 0, 0, POSIX_FADV_DONTNEED);
    ::close(descriptor);
}

core::Result<void> copyChecked(const fs::path& from, const fs::path& to) {
    const auto wanted = sha256OfFile(from);
    if (auto copied = copyFile(from, to); !copied)
        return copied;
    forgetCached(to);
    const auto got = sha256OfFile(to);
    if (!wanted || !got || *wanted != *got)
        return core::fail(ErrorCode::DiskProblem, "the copy does not read back as the backup");
    return {};
}

/// Copies every plain file of a backup's folder.
core::Result<void> copyAll(const fs::path& from, const fs::path& to) {
    std::error_code problem;
    for (const auto& entry : fs::directory_iterator(from, problem)) {
        if (!entry.is_regular_file(problem))
            continue;
        if (auto copied = copyChecked(entry.path(), to / entry.path().filename()); !copied)
            return copied;
    }
    if (problem)
        return tl::unexpected(systemError(problem.value(), "list a backup"));
    return {};
}

core::Result<void> writeCopy(const BackupInfo& backup, const fs::path& shelf, const fs::path& target) {
    const fs::path making = shelf / ("tmp-" + core::toString(makeUuid()));
    if (auto made = makeFolder(making); !made)
        return made;
    auto outcome = copyAll(backup.folder, making);
    if (outcome)
        outcome = carryAttachments(backup.folder, shelf);
    if (outcome) {
        BackupInfo copy = backup;
        copy.folder = making;
        outcome = verifyBackup(copy);
    }
    if (outcome)
        outcome = renameFile(making, target);
    if (!outcome) {
        std::error_code ignored;
        fs::remove_all(making, ignored);
    }
    return outcome;
}

} // namespace

core::Result<OffMachineCopy> copyOffMachine(const fs::path& shopFolder, const BackupInfo& backup,
                                            const fs::path& place, core::Moment now) {
    std::error_code problem;
    if (!fs::is_directory(place, problem))
        return core::fail(ErrorCode::NotFound, "the folder for copies off this machine is not there; is its "
                                               "disk plugged in?");
    if (isInside(place, shopFolder))
        return core::fail(
            ErrorCode::InvalidInput,
            "the folder for copies off this machine lies inside the shop's own; expected another disk");
    if (auto verified = verifyBackup(backup); !verified)
        return core::failureOf(verified);
    const fs::path shelf = place / shopFolder.stem();
    if (auto made = makeFolder(shelf); !made)
        return core::failureOf(made);
    const OffMachineCopy copy{shelf / backup.folder.filename(), onSameDisk(place, shopFolder)};
    if (fs::exists(copy.folder, problem)) {
        BackupInfo there = backup;
        there.folder = copy.folder;
        if (auto verified = verifyBackup(there); !verified)
            return core::failureOf(verified);
    } else if (auto written = writeCopy(backup, shelf, copy.folder); !written) {
        return core::failureOf(written);
    }
    if (const auto all = listBackupsIn(shelf)) {
        for (const auto& old : outdated(*all, now))
            fs::remove_all(old.folder, problem);
        sweepAttachments(shelf);
    }
    // A note that cannot be read is written anew: the place is known again, and the rest is simply due.
    ShopCare care = readCare(shopFolder).value_or(ShopCare{});
    care.offMachine = now;
    care.offMachineFolder = place.string();
    if (auto noted = writeCare(shopFolder, care); !noted)
        return core::failureOf(noted);
    return copy;
}

core::Result<void> testRestore(const fs::path& shopFolder, const BackupInfo& backup, core::Moment now) {
    const auto trial = TemporaryFolder::make("trial");
    if (!trial)
        return core::failureOf(trial);
    const fs::path folder = (*trial)->path() / "Trial.milehold";
    if (auto restored = restoreBackup(folder, backup); !restored)
        return core::failureOf(restored);
    auto shop = Shop::open(folder);
    if (!shop)
        return core::failureOf(shop);
    const auto report = (*shop)->verify(CheckDepth::Full);
    if (!report)
        return core::failureOf(report);
    if (!report->sound())
        return core::fail(ErrorCode::Unreadable, report->problems.front());
    shop->reset();
    auto care = readCare(shopFolder);
    if (!care)
        return core::failureOf(care);
    care->testRestore = now;
    return writeCare(shopFolder, *care);
}

} // namespace milehold::storage
