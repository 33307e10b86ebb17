// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"
#include "core/shop/vehicle.h"

#include <vector>

namespace milehold::core {

/// All that the shop knows of one vehicle, in any order.
struct VehicleHistory {
    Vehicle vehicle;
    bool doNotCall = false; ///< its customer's wish
    std::vector<Job> jobs;
    std::vector<FollowUp> followUps;
    std::vector<OdometerReading> odometers;
    friend bool operator==(const VehicleHistory&, const VehicleHistory&) = default;
};

} // namespace milehold::core
