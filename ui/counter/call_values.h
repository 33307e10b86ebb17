// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/call_due.h"
#include "core/shop/job.h"

#include <optional>
#include <string>
#include <vector>

namespace milehold::ui {

/// What stands in the fields of a call before its outcome is logged.
struct CallTyped {
    std::optional<core::Distance> odometer;
    std::optional<core::Distance> noiseSince;
    std::string note;
    std::optional<core::Date> callOn; ///< while a day to call again is being asked for
    bool empty() const { return *this == CallTyped{}; }
    friend bool operator==(const CallTyped&, const CallTyped&) = default;
};

/// A call that is worth making, with what the advisor needs at the phone.
struct CallToMake {
    core::RankedCall call;
    std::vector<core::CallDue> due;
    std::int64_t jobNumber = 0;
    std::string customer;
    std::vector<std::string> phones;
    std::string bestTime;
    std::string customerNote;
    std::string vehicle; ///< maker, model and year
    std::string plate;
    std::string path;
    core::ConcernGroup concern = core::ConcernGroup::StartupRattle;
    core::Date repairedOn;
    core::Date lastKnownOn;
    core::Distance known;                      ///< since the repair, when last known quiet
    std::optional<core::Distance> odometerNow; ///< what its instrument should show today, estimated
    std::vector<std::string> also;             ///< what else the same person is to be called about
    CallTyped typed;                           ///< kept from before, not logged yet
};

/// What the customer told. `odometer` empty: nobody knew.
struct CallAnswer {
    core::JobId job;
    core::FollowUpOutcome outcome = core::FollowUpOutcome::NoAnswer;
    std::optional<core::Distance> odometer;
    bool odometerEstimated = false;
    std::optional<core::Distance> noiseSince;
    std::string note;
    std::optional<core::Date> callOn; ///< CallLater only
    bool isSure = false;              ///< it was doubted, and told once more
    friend bool operator==(const CallAnswer&, const CallAnswer&) = default;
};

} // namespace milehold::ui
