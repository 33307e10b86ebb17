// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/result.h"
#include "storage/database/unit_of_work.h"

namespace milehold::storage {

/// One vehicle with its jobs (void ones too), follow-ups and typed odometer readings, each in order of date.
/// What the instrument showed at a job or a call stands in that record, so those readings are not listed a
/// second time. Errors: NotFound.
core::Result<core::VehicleHistory> readHistory(Session& session, core::VehicleId id);

/// Whether a record's readings may be stored already: not where the record itself was inserted a moment ago.
enum class Readings : std::uint8_t { MayBeThere, AreNew };

/// Makes the odometer table hold what a job (in, out) or a call brought, no more and no less.
core::Result<void> keepOdometers(UnitOfWork& unit, Session& session, const core::Job& job,
                                 Readings readings = Readings::MayBeThere);
core::Result<void> keepOdometers(UnitOfWork& unit, Session& session, const core::FollowUp& followUp,
                                 core::VehicleId vehicle, Readings readings = Readings::MayBeThere);
core::Result<void> dropOdometersOf(UnitOfWork& unit, Session& session, const core::Job& job);
core::Result<void> dropOdometersOf(UnitOfWork& unit, Session& session, const core::FollowUp& followUp);

} // namespace milehold::storage
