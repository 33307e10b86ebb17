// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/shop_lock.h"

#include <array>
#include <filesystem>
#include <pwd.h>
#include <sys/stat.h>

namespace milehold::storage {

namespace {

/// Whose lock it is, as the system names the file's owner; the number where it has no name.
std::string userOf(const std::filesystem::path& lock) {
    struct stat status {};
    if (::stat(lock.c_str(), &status) != 0)
        return "somebody";
    std::array<char, 4096> room{};
    passwd entry{};
    passwd* found = nullptr;
    ::getpwuid_r(status.st_uid, &entry, room.data(), room.size(), &found);
    return found == nullptr ? "user " + std::to_string(status.st_uid) : std::string(found->pw_name);
}

std::optional<Holder> holderIn(const QLockFile& file) {
    qint64 pid = 0;
    QString host;
    QString program;
    if (!file.getLockInfo(&pid, &host, &program))
        return std::nullopt;
    return Holder{pid, host.toStdString(), program.toStdString()};
}

} // namespace

ShopLock::ShopLock(const ShopFolder& folder) : file_(QString::fromStdString(folder.lock().string())) {
    // Never stale by age: a shop may be open for weeks. The lock of a dead process is still noticed.
    file_.setStaleLockTime(0);
}

core::Result<std::unique_ptr<ShopLock>> ShopLock::take(const ShopFolder& folder) {
    std::unique_ptr<ShopLock> lock(new ShopLock(folder));
    if (lock->file_.tryLock(0)) {
        std::error_code ignored;
        std::filesystem::permissions(
            folder.lock(), std::filesystem::perms::owner_read | std::filesystem::perms::owner_write, ignored);
        return lock;
    }
    switch (lock->file_.error()) {
    case QLockFile::PermissionError:
        return core::fail(core::ErrorCode::ReadOnly, "no right to write into the shop's folder");
    case QLockFile::LockFailedError:
        break;
    default:
        return core::fail(core::ErrorCode::DiskProblem, "the shop's lock file cannot be written");
    }
    const auto holder = holderIn(lock->file_);
    if (!holder)
        return core::fail(core::ErrorCode::InUse, "the shop is open in another program");
    return core::fail(core::ErrorCode::InUse, "the shop is open in " + holder->program + ", process " +
                                                  std::to_string(holder->pid) + " of " +
                                                  userOf(folder.lock()) + " on " + holder->host);
}

std::optional<Holder> ShopLock::holder(const ShopFolder& folder) {
    ShopLock lock(folder);
    if (lock.file_.tryLock(0)) {
        lock.file_.unlock();
        return std::nullopt;
    }
    return holderIn(lock.file_);
}

} // namespace milehold::storage
