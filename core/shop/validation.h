// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/shop/finding.h"
#include "core/shop/job.h"
#include "core/shop/people.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"
#include "core/shop/vehicle.h"

namespace milehold::core {

/// The rules of the records, one function a record type; used by the form while typing and by the store
/// before a save. Each returns what it found, worst first within a field; a record with an error may not be
/// saved.
Findings validate(const Staff& staff);
Findings validate(const Customer& customer);
Findings validate(const Vehicle& vehicle);
Findings validate(const EngineFamily& family);
Findings validate(const PartNumber& part, const Shelf& shelf);
Findings validate(const Calibration& calibration, const Shelf& shelf);
Findings validate(const RepairPath& path, const Shelf& shelf);
Findings validate(const ShelfNote& note);
Findings validate(const ShopSettings& settings);
/// `history` is the vehicle's record without this job (or with its stored version, which is passed over).
Findings validate(const Job& job, const Shelf& shelf, const VehicleHistory& history);
Findings validate(const FollowUp& followUp, const VehicleHistory& history);
Findings validate(const OdometerReading& reading, const VehicleHistory& history);

} // namespace milehold::core
