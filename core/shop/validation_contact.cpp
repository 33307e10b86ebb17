// SPDX-License-Identifier: GPL-3.0-or-later
// The rules of follow-ups and odometer readings.
#include "core/shop/finding_list.h"
#include "core/shop/odometer_check.h"
#include "core/shop/validation.h"

#include <algorithm>

namespace milehold::core {

namespace {

constexpr int kFarMonths = 24;

void checkCallDistances(const FollowUp& call, const Job& job, const VehicleHistory& others,
                        FindingList& found) {
    const Instruments instruments(others);
    const auto seen = sightings(others, instruments);
    if (call.odometer && *call.odometer < Distance())
        found.error("odometer", "An odometer cannot be negative.");
    else if (call.odometer)
        checkDistance({"odometer", call.date, instruments.runAt(call.date, *call.odometer),
                       call.odometerEstimated, true},
                      seen, found);
    if (!call.noiseSince)
        return;
    if (call.outcome != FollowUpOutcome::NoiseBack)
        found.error("noiseSince", "Only a noise that is back was noticed at an odometer.");
    else if (call.odometer && *call.noiseSince > *call.odometer)
        found.error("noiseSince", "The noise cannot have been noticed later than the odometer of the call.");
    else if (job.delivered && job.odometerOut &&
             instruments.runAt(call.date, *call.noiseSince) <
                 instruments.runAt(*job.delivered, *job.odometerOut))
        found.error("noiseSince",
                    "The noise was noticed before the repair was delivered; it cannot be back.");
}

void checkPromise(const FollowUp& call, FindingList& found) {
    if (!call.callOn)
        return;
    if (call.outcome != FollowUpOutcome::CallLater)
        found.error("callOn", "Only who is to be called later has a day for it.");
    else if (!call.callOn->ok())
        found.error("callOn", "The day to call again is not a date.");
    else if (*call.callOn <= call.date)
        found.error("callOn", "The day to call again lies after the day of this call.");
    else if (*call.callOn > addMonths(call.date, kFarMonths))
        found.warning("callOn", "The day to call again is more than two years away; please check.");
}

} // namespace

Findings validate(const FollowUp& followUp, const VehicleHistory& history) {
    FindingList found;
    // Voiding must always be possible, whatever else is wrong with the call.
    if (followUp.isVoid()) {
        found.needText("voidReason", followUp.voidReason, "Say why this answer does not count.");
        return found.take();
    }
    if (!followUp.date.ok()) {
        found.error("date", "Enter the day of the call.");
        return found.take();
    }
    const auto job = std::find_if(history.jobs.begin(), history.jobs.end(),
                                  [&](const Job& other) { return other.id == followUp.job; });
    if (job == history.jobs.end() || !job->isDelivered() || job->isVoid() || job->kind == JobKind::Visit) {
        found.error("job", "A follow-up is about a delivered timing repair of this vehicle.");
        return found.take();
    }
    if (followUp.date < *job->delivered)
        found.error("date", "The call is before the delivery of the job.");
    VehicleHistory others = history;
    std::erase_if(others.followUps, [&](const FollowUp& other) { return other.id == followUp.id; });
    checkCallDistances(followUp, *job, others, found);
    checkPromise(followUp, found);
    const bool saysDistance =
        followUp.outcome == FollowUpOutcome::Quiet || followUp.outcome == FollowUpOutcome::NoiseBack;
    if (saysDistance && !followUp.odometer && !followUp.noiseSince)
        found.warning("odometer",
                      "Without an odometer this answer moves no known miles; ask for a rough figure.");
    return found.take();
}

Findings validate(const OdometerReading& reading, const VehicleHistory& history) {
    FindingList found;
    if (!reading.date.ok()) {
        found.error("date", "Enter the day of the reading.");
        return found.take();
    }
    if (reading.shown < Distance())
        found.error("shown", "An odometer cannot be negative.");
    if (!history.vehicle.id.isNull() && history.vehicle.id != reading.vehicle)
        found.error("vehicle", "The reading is of another vehicle than its history.");
    VehicleHistory others = history;
    std::erase_if(others.odometers, [&](const OdometerReading& other) { return other.id == reading.id; });
    // A replacement changes how all later readings are understood, so the others are read with it in place.
    VehicleHistory together = others;
    together.odometers.push_back(reading);
    const Instruments instruments(together);
    const Distance run = reading.resetOffset ? reading.shown + *reading.resetOffset
                                             : instruments.runAt(reading.date, reading.shown);
    if (reading.resetOffset && run < Distance())
        found.error("resetOffset", "With this offset the vehicle would have run less than nothing.");
    checkDistance({reading.resetOffset ? "resetOffset" : "shown", reading.date, run, false,
                   reading.source == OdometerSource::Call},
                  sightings(others, instruments), found);
    return found.take();
}

} // namespace milehold::core
