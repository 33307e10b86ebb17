// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/calls.h"
#include "core/shop/job.h"

#include <optional>
#include <string>
#include <vector>

namespace milehold::ui {

/// A call that is worth making, with what the advisor needs at the phone.
struct CallToMake {
    core::RankedCall call;
    std::int64_t jobNumber = 0;
    std::string customer;
    std::vector<std::string> phones;
    std::string bestTime;
    std::string customerNote;
    std::string vehicle; ///< maker, model and year
    std::string plate;
    std::string path;
    core::Date repairedOn;
    core::Date lastKnownOn;
    core::Distance known;                      ///< since the repair, when last known quiet
    std::optional<core::Distance> odometerNow; ///< what its instrument should show today, estimated
};

/// What the customer told. `odometer` empty: nobody knew.
struct CallAnswer {
    core::JobId job;
    core::FollowUpOutcome outcome = core::FollowUpOutcome::NoAnswer;
    std::optional<core::Distance> odometer;
    bool odometerEstimated = false;
    std::optional<core::Distance> noiseSince;
    std::string note;
    friend bool operator==(const CallAnswer&, const CallAnswer&) = default;
};

} // namespace milehold::ui
