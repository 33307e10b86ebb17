// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/shelf.h"

#include <optional>
#include <string>
#include <string_view>

namespace milehold::core {

/// `2027 Ordway Lantern`: model year, maker and model, as far as they are known; blank when none is.
std::string vehicleName(std::optional<int> modelYear, std::string_view maker, std::string_view model);

/// `TX-114 B`: number and revision.
std::string partLabel(const PartNumber& part);

} // namespace milehold::core
