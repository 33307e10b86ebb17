// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstdint>
#include <filesystem>

namespace milehold::storage {

/// Low: under 500 MB or three times the shop's file; backups still run, somebody should make room. Scarce:
/// under 100 MB; what can wait (imports, attachments) is refused, so that the day's jobs still fit.
enum class RoomLevel : std::uint8_t { Enough, Low, Scarce };

struct DiskRoom {
    std::uint64_t free = 0;     ///< bytes that this person may still write
    std::uint64_t database = 0; ///< bytes of the shop's file
    RoomLevel level() const;
};

/// Errors: NotFound, DiskProblem.
core::Result<DiskRoom> roomOf(const std::filesystem::path& shopFolder);

/// Errors: DiskProblem when the disk is Scarce, saying how much is free and what was expected.
core::Result<void> requireRoom(const DiskRoom& room);

} // namespace milehold::storage
