// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/people.h"
#include "core/shop/vehicle.h"

#include <QString>

#include <optional>

namespace milehold::ui {

/// `2027 Ordway Lantern`; its plate or VIN where nothing else is known of it.
QString vehicleTitle(const core::Vehicle& vehicle);
/// VIN, plate, customer and phone in one line.
QString vehicleDetail(const core::Vehicle& vehicle, const std::optional<core::Customer>& customer);

} // namespace milehold::ui
