// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"

namespace milehold::core {

/// The job with what choosing a repair path fills in: its work lines, its parts by position at their newest
/// revision (only at positions that the engine has), the newest calibration, hours, price as labour, and the
/// shop's warranty.
///
/// A field is filled only where it is blank or still holds what the job's path so far had filled in; whatever
/// the technician changed stays. Parts and work lines are one field each. `family` is the engine's, nullptr
/// where it is not known: then every position is taken.
Job withPath(const Job& job, const RepairPath& chosen, const Shelf& shelf, const ShopSettings& settings,
             const EngineFamily* family);

} // namespace milehold::core
