// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/disk_room.h"

#include "storage/files/durable.h"
#include "storage/files/shop_folder.h"

#include <cerrno>
#include <string>
#include <sys/statvfs.h>

namespace milehold::storage {

namespace {

constexpr std::uint64_t kMegabyte = 1'000'000;
constexpr std::uint64_t kLow = 500 * kMegabyte;
constexpr std::uint64_t kScarce = 100 * kMegabyte;

} // namespace

RoomLevel DiskRoom::level() const {
    if (free < kScarce)
        return RoomLevel::Scarce;
    return free < kLow || free / 3 < database ? RoomLevel::Low : RoomLevel::Enough;
}

core::Result<DiskRoom> roomOf(const std::filesystem::path& shopFolder) {
    struct statvfs status {};
    if (::statvfs(shopFolder.c_str(), &status) != 0)
        return tl::unexpected(systemError(errno, "ask how much room the disk has"));
    DiskRoom room;
    room.free = std::uint64_t{status.f_bavail} * status.f_frsize;
    std::error_code none;
    const auto bytes = std::filesystem::file_size(ShopFolder{shopFolder}.database(), none);
    room.database = none ? 0 : bytes;
    return room;
}

core::Result<void> requireRoom(const DiskRoom& room) {
    if (room.level() != RoomLevel::Scarce)
        return {};
    return core::fail(core::ErrorCode::DiskProblem,
                      "the shop's disk has " + std::to_string(room.free / kMegabyte) + " MB free; at least " +
                          std::to_string(kScarce / kMegabyte) +
                          " MB are kept for the day's jobs: make room first");
}

} // namespace milehold::storage
