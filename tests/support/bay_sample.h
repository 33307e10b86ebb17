// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "tests/support/random_job.h"
#include "ui/bay/bay_context.h"
#include "ui/bay/job_card.h"

namespace milehold::tests {

/// Keys of the little invented shelf.
inline const auto kFamily = idOf<core::EngineFamilyId>(1);
inline const auto kInline = idOf<core::EngineFamilyId>(2);
inline const auto kSoftware = idOf<core::RepairPathId>(1);
inline const auto kPhasers = idOf<core::RepairPathId>(2);
inline const auto kPhasersAndChain = idOf<core::RepairPathId>(3);
inline const auto kInlinePhasers = idOf<core::RepairPathId>(4);
inline const auto kOldPhaser = idOf<core::PartNumberId>(1);
inline const auto kPhaser = idOf<core::PartNumberId>(2);
inline const auto kChain = idOf<core::PartNumberId>(3);
inline const auto kValve = idOf<core::PartNumberId>(4);
inline const auto kTechnician = idOf<core::StaffId>(1);
inline const auto kAdvisor = idOf<core::StaffId>(2);

/// A shop on 16 May 2031 with two engines, four paths, four parts (one superseded), three calibrations, three
/// people.
ui::BayContext sampleContext();
/// A vehicle of the six-cylinder family with its customer, and a new job for it written up today.
ui::JobCard sampleCard();
/// The same vehicle with two years of record: a repair that is holding, calls, a visit, an odometer reading.
core::VehicleHistory samplePast();

} // namespace milehold::tests
