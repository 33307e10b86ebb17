// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/life/life.h"
#include "core/shop/people.h"
#include "core/shop/shelf.h"

#include <QString>

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace milehold::ui {

/// One row of a vehicle's time line.
struct VehicleEvent {
    enum class Kind : std::uint8_t { Repair, Visit, Elsewhere, Comeback, Calibration, Call, Reading, Replacement };
    Kind kind = Kind::Reading;
    core::Date date;
    std::optional<core::Distance> shown; ///< by the instrument that was in it then
    bool estimated = false;
    QString what;    ///< in a few words: `Repair, job 41`
    QString details; ///< path, outcome, decision, note
    core::JobId job; ///< that the row opens; null for a plain reading
};

/// Everything that the history tells, newest first; voided jobs and calls about them are left out, and so are
/// readings that a job or a call brought.
std::vector<VehicleEvent> vehicleEvents(const core::VehicleHistory& history, std::span<const core::Life> lives,
                                        const core::Shelf& shelf, core::DistanceUnit unit);

/// `12,400 mi a year, by the median slope of 7 readings`; the shop's default says that it is one.
QString yearlyText(const core::YearlyDistance& yearly, core::DistanceUnit unit);

} // namespace milehold::ui
