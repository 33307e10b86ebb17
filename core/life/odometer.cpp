// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/odometer.h"

#include <algorithm>
#include <tuple>

namespace milehold::core {

namespace {

Distance apart(Distance a, Distance b) {
    return a < b ? b - a : a - b;
}

bool isAboutVoidJob(const VehicleHistory& history, JobId id) {
    return std::any_of(history.jobs.begin(), history.jobs.end(),
                       [&](const Job& job) { return job.id == id && job.isVoid(); });
}

} // namespace

Instruments::Instruments(const VehicleHistory& history) {
    for (const auto& reading : history.odometers)
        if (reading.resetOffset && reading.date.ok())
            replacements_.push_back(reading);
    std::sort(replacements_.begin(), replacements_.end(), [](const auto& a, const auto& b) {
        return std::tuple(a.date, *a.resetOffset, a.shown, a.id) <
               std::tuple(b.date, *b.resetOffset, b.shown, b.id);
    });
}

Distance Instruments::runAt(Date date, Distance shown) const {
    Distance offset;
    for (const auto& replacement : replacements_) {
        if (replacement.date > date)
            break;
        if (replacement.date == date) {
            const Distance atReplacement = replacement.shown + *replacement.resetOffset;
            if (apart(shown + offset, atReplacement) <=
                apart(shown + *replacement.resetOffset, atReplacement))
                continue;
        }
        offset = *replacement.resetOffset;
    }
    return shown + offset;
}

std::vector<Sighting> sightings(const VehicleHistory& history, const Instruments& instruments) {
    std::vector<Sighting> seen;
    seen.reserve(history.odometers.size() + 2 * history.jobs.size() + history.followUps.size());
    const auto add = [&](Date date, Distance run, RecordRef::Kind kind, const Uuid& id, bool told,
                         bool estimated) {
        if (date.ok())
            seen.push_back({date, run, estimated, told, {kind, id}});
    };
    for (const auto& reading : history.odometers) {
        const Distance run = reading.resetOffset ? reading.shown + *reading.resetOffset
                                                 : instruments.runAt(reading.date, reading.shown);
        add(reading.date, run, RecordRef::Kind::Odometer, reading.id.uuid,
            reading.source == OdometerSource::Call, false);
    }
    for (const auto& job : history.jobs) {
        if (job.isVoid())
            continue;
        // A repair elsewhere was not seen by this shop; what is written of it was told.
        const bool told = job.kind == JobKind::Elsewhere;
        if (job.odometerIn && !told)
            add(job.writtenUp, instruments.runAt(job.writtenUp, *job.odometerIn), RecordRef::Kind::Job,
                job.id.uuid, told, false);
        if (job.odometerOut) {
            const Date date = job.delivered.value_or(job.writtenUp);
            add(date, instruments.runAt(date, *job.odometerOut), RecordRef::Kind::Job, job.id.uuid, told,
                false);
        }
    }
    for (const auto& call : history.followUps)
        if (call.odometer && !call.isVoid() && !isAboutVoidJob(history, call.job))
            add(call.date, instruments.runAt(call.date, *call.odometer), RecordRef::Kind::FollowUp,
                call.id.uuid, true, call.odometerEstimated);
    std::sort(seen.begin(), seen.end(), [](const Sighting& a, const Sighting& b) {
        return std::tuple(a.date, a.run, a.source.kind, a.source.id) <
               std::tuple(b.date, b.run, b.source.kind, b.source.id);
    });
    return seen;
}

} // namespace milehold::core
