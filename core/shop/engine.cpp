// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/engine.h"

namespace milehold::core {

std::string toCode(Position position) {
    std::string code = "B" + std::to_string(position.bank) + "-";
    switch (position.cam) {
    case CamRole::Intake:
        return code + "IN";
    case CamRole::Exhaust:
        return code + "EX";
    case CamRole::Single:
        return code + "SC";
    }
    return code;
}

std::optional<Position> positionFromCode(std::string_view code) {
    for (const std::uint8_t bank : {std::uint8_t{1}, std::uint8_t{2}})
        for (const CamRole cam : {CamRole::Intake, CamRole::Exhaust, CamRole::Single})
            if (const Position position{bank, cam}; toCode(position) == code)
                return position;
    return std::nullopt;
}

} // namespace milehold::core
