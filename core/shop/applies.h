// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/shelf.h"

#include <optional>
#include <string_view>

namespace milehold::core {

/// True when the path is listed for this engine family, model year and calibration on the engine computer. A
/// model year that is not known fits only an entry with both ends open. A needed or excluded calibration
/// means itself and every later one that follows from it; a blank calibration has none of them.
bool appliesTo(const RepairPath& path, std::optional<EngineFamilyId> family, std::optional<int> modelYear,
               std::string_view calibration, const Shelf& shelf);

} // namespace milehold::core
