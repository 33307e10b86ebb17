// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/result.h"
#include "core/shop/settings.h"
#include "ui/counter/counter_values.h"

#include <string>
#include <vector>

namespace milehold::storage {
class Shop;
struct VehicleHit;
} // namespace milehold::storage

namespace milehold::app {

ui::VehicleFound toFound(const storage::VehicleHit& hit);

/// What the Counter shows of a vehicle, from its whole history and its lives.
ui::CounterVehicle counterVehicle(const core::VehicleHistory& history, const std::string& customer,
                                  const std::vector<core::LifeRecord>& lives, const core::ShopSettings& rules,
                                  core::Date today);

/// The same read from the records; on the database thread.
core::Result<ui::CounterVehicle> readCounterVehicle(storage::Shop& shop, core::VehicleId id,
                                                    const core::ShopSettings& rules, core::Date today);

} // namespace milehold::app
