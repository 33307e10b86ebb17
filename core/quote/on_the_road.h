// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/life/life_record.h"

#include <span>
#include <string>

namespace milehold::core {

/// The repair that a vehicle runs on now: the newest of its lives that holds, one that was lost sight of
/// included, for the vehicle that is asked about is in sight again. Null when there is none, or when nothing
/// is known of it. Input: the lives of one vehicle, in any order.
const LifeRecord* runningLife(std::span<const LifeRecord> ofVehicle);

/// The newest calibration that somebody read from the engine computer, after the work where both were read;
/// blank when nobody did.
std::string calibrationNow(const VehicleHistory& history);

} // namespace milehold::core
