// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/id.h"
#include "storage/vehicle_store.h"

#include <cstddef>
#include <string_view>
#include <vector>

namespace milehold::storage {

class Session;

struct FoundVehicle {
    core::VehicleId id;
    FoundIn in = FoundIn::Vin;
};

/// Vehicles by job number (whole), VIN, its tail, plate, repair order, customer's name and phone, each
/// vehicle once, in that order, each by an indexed prefix query. Text that is blank after folding finds
/// nothing.
core::Result<std::vector<FoundVehicle>> searchVehicles(Session& session, std::string_view text,
                                                       std::size_t limit);

/// Customers by the words of the name or a phone number, by name.
core::Result<std::vector<core::CustomerId>> searchCustomers(Session& session, std::string_view text,
                                                            std::size_t limit);

} // namespace milehold::storage
