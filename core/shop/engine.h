// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/id.h"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::core {

enum class CamRole : std::uint8_t { Intake, Exhaust, Single };

/// A place for a phaser on an engine: bank 1 or 2, and which cam.
struct Position {
    std::uint8_t bank = 1;
    CamRole cam = CamRole::Intake;
    friend auto operator<=>(const Position&, const Position&) = default;
};

/// `B1-IN`, `B2-EX`, `B1-SC` (single cam): how a position is written in tables and files.
std::string toCode(Position position);
std::optional<Position> positionFromCode(std::string_view code);

/// A family of engines that share their timing drive.
struct EngineFamily {
    EngineFamilyId id;
    std::string name;                ///< never blank
    std::uint8_t banks = 1;          ///< 1 (inline) or 2
    std::vector<Position> positions; ///< phaser positions, distinct, each on one of the banks; may be empty
    std::string note;
    std::int64_t revision = 0;
    friend bool operator==(const EngineFamily&, const EngineFamily&) = default;
};

} // namespace milehold::core
