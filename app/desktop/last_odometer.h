// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/quantity/date.h"
#include "core/quantity/distance.h"

#include <optional>

namespace milehold::app {

/// What the instrument that is in the vehicle now showed when it was last seen.
struct ShownOdometer {
    core::Date on;
    core::Distance shown;
    friend bool operator==(const ShownOdometer&, const ShownOdometer&) = default;
};

/// The newest sight of the odometer up to `today` from readings, jobs and calls, estimates left out; empty
/// without one.
std::optional<ShownOdometer> lastOdometer(const core::VehicleHistory& history, core::Date today);

/// What it should show on `today` at so much a year; never less than what was seen.
core::Distance odometerOn(const ShownOdometer& last, core::Distance perYear, core::Date today);

} // namespace milehold::app
