// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/shop_lock.h"

#include <filesystem>

namespace milehold::storage {

namespace {

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
                                                  std::to_string(holder->pid) + " on " + holder->host);
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
