// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/life/life.h"

#include <cstdint>
#include <span>
#include <vector>

namespace milehold::ui {

/// One thing that happened to a vehicle, at its place along the distance that it has run.
struct LineMark {
    enum class Kind : std::uint8_t { Repair, Visit, Elsewhere, Call, Reading };
    Kind kind = Kind::Reading;
    core::Uuid id;           ///< of the job, follow-up or reading
    core::JobId job;         ///< of a job's or a call's mark
    std::int64_t number = 0; ///< of a job
    core::Date date;
    core::Distance at;     ///< really run, instrument replacements added back
    bool measured = false; ///< false: no odometer, placed between its neighbours by date
    bool inWork = false;
    core::FollowUpOutcome outcome = core::FollowUpOutcome::NoAnswer; ///< of a call
    friend bool operator==(const LineMark&, const LineMark&) = default;
};

/// A life laid along the same distance.
struct LineBar {
    core::JobId job;
    core::LifeState state = core::LifeState::Holding;
    core::Distance from;   ///< at delivery
    core::Distance known;  ///< where it was last known quiet, came back or ended
    core::Distance until;  ///< a comeback lies between known and here; equal to known otherwise
    core::Distance unseen; ///< how far nobody has looked past known; equal to known when it ended
    friend bool operator==(const LineBar&, const LineBar&) = default;
};

/// A vehicle's past on one line: what was done, asked and read, and how each repair has held.
struct VehicleLine {
    std::vector<LineMark> marks; ///< by date, then by distance
    std::vector<LineBar> bars;   ///< in the order of the repairs
    core::Distance first;        ///< extent along the line, first <= last
    core::Distance last;
    bool empty() const { return marks.empty(); }
    friend bool operator==(const VehicleLine&, const VehicleLine&) = default;
};

/// Lays a vehicle's history on a line. Void jobs are left out; readings that a job or a call brought are not
/// marked a second time.
VehicleLine vehicleLine(const core::VehicleHistory& history, std::span<const core::Life> lives);

} // namespace milehold::ui
