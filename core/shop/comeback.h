// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"

#include <optional>

namespace milehold::core {

/// True when a complaint of the group `later` is the concern that a repair for `repaired` was to cure. A
/// repair that names no concern answers for every timing concern.
bool isSameConcern(ConcernGroup repaired, ConcernGroup later);

/// True for the decisions by which a repair did not hold.
bool countsAsComeback(ComebackDecision decision);

/// The earlier repair of which this job may be the comeback: the latest delivered, not void timing repair of
/// the same vehicle for the same concern, made no later than this job was written up. Proposing is automatic;
/// accepting is a person's act. Empty when there is none, or the job has no concern.
std::optional<JobId> proposeComebackOf(const Job& job, const VehicleHistory& history);

} // namespace milehold::core
