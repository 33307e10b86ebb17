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
    enum class Kind : std::uint8_t {
        Repair,
        Visit,
        Elsewhere,
        Comeback,
        Calibration,
        Call,
        Reading,
        Replacement,
        File
    };
    Kind kind = Kind::Reading;
    core::Date date;
    std::optional<core::Distance> shown; ///< by the instrument that was in it then
    bool estimated = false;
    QString what;                           ///< in a few words: `Repair, job 41`
    QString details;                        ///< path, outcome, decision, note
    core::JobId job;                        ///< that the row opens; null for a plain reading
    std::optional<core::AttachmentId> file; ///< that the row opens instead
    std::optional<core::FollowUp> call;     ///< Call only
    /// True for a call that was logged by mistake: shown, and counted nowhere.
    bool isVoid() const { return call && call->isVoid(); }
};

/// Everything that the history tells, newest first; voided jobs, calls about them and their files are left
/// out, and so are readings that a job or a call brought. A file stands on the day of its job.
std::vector<VehicleEvent> vehicleEvents(const core::VehicleHistory& history,
                                        std::span<const core::Life> lives, const core::Shelf& shelf,
                                        core::DistanceUnit unit,
                                        std::span<const core::Attachment> files = {});

/// `12,400 mi a year, by the median slope of 7 readings`; the shop's default says that it is one.
QString yearlyText(const core::YearlyDistance& yearly, core::DistanceUnit unit);

} // namespace milehold::ui
