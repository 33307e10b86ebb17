// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <compare>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace milehold::core {

/// A UUID as bytes (RFC 4122). The program makes one before it saves, so that a save whose outcome is unknown
/// can be looked up. All zero means "none yet".
struct Uuid {
    std::array<std::uint8_t, 16> bytes{};
    bool isNull() const { return *this == Uuid{}; }
    friend auto operator<=>(const Uuid&, const Uuid&) = default;
};

/// `0f6b4c7e-0c3f-4f5b-9d53-0a4c1f0f5b11`, lower case.
std::string toString(const Uuid& uuid);
/// Empty unless the text is a UUID in that form, in either case.
std::optional<Uuid> uuidFromString(std::string_view text);

/// A typed key: the key of a vehicle does not convert to the key of a job.
template <class Tag> struct Id {
    Uuid uuid;
    bool isNull() const { return uuid.isNull(); }
    friend auto operator<=>(const Id&, const Id&) = default;
};

using StaffId = Id<struct StaffTag>;
using CustomerId = Id<struct CustomerTag>;
using VehicleId = Id<struct VehicleTag>;
using OdometerId = Id<struct OdometerTag>;
using EngineFamilyId = Id<struct EngineFamilyTag>;
using RepairPathId = Id<struct RepairPathTag>;
using PathAppliesId = Id<struct PathAppliesTag>;
using PartNumberId = Id<struct PartNumberTag>;
using CalibrationId = Id<struct CalibrationTag>;
using JobId = Id<struct JobTag>;
using FollowUpId = Id<struct FollowUpTag>;
using AttachmentId = Id<struct AttachmentTag>;
using ShelfNoteId = Id<struct ShelfNoteTag>;

} // namespace milehold::core

template <class Tag> struct std::hash<milehold::core::Id<Tag>> {
    std::size_t operator()(const milehold::core::Id<Tag>& id) const noexcept {
        // FNV-1a over the sixteen bytes.
        std::uint64_t digest = 14695981039346656037ULL;
        for (const auto byte : id.uuid.bytes)
            digest = (digest ^ byte) * 1099511628211ULL;
        return static_cast<std::size_t>(digest);
    }
};
