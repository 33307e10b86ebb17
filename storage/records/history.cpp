// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/records/history.h"

#include "storage/records/repository.h"
#include "storage/records/stored.h"

#include <functional>
#include <optional>
#include <string_view>

namespace milehold::storage {

namespace {

using Bind = std::function<void(Statement&)>;

/// Inserts, changes or removes the one reading that `condition` names, until it is `wanted`.
core::Result<void> keepOne(UnitOfWork& unit, Session& session, std::string_view condition, const Bind& bind,
                           std::optional<StoredOdometer> wanted) {
    auto stored = readWhere<StoredOdometer>(session, condition, bind);
    if (!stored)
        return core::failureOf(stored);
    if (!wanted) {
        if (stored->empty())
            return {};
        return removeRecord<StoredOdometer>(unit, session, stored->front().id.uuid, stored->front().revision);
    }
    if (!stored->empty()) {
        wanted->id = stored->front().id;
        wanted->revision = stored->front().revision;
    }
    auto saved = saveRecord(unit, session, *wanted);
    if (!saved)
        return core::failureOf(saved);
    return {};
}

core::Result<void> keepOfJob(UnitOfWork& unit, Session& session, const core::Job& job,
                             std::string_view moment, std::optional<StoredOdometer> wanted) {
    return keepOne(
        unit, session, "WHERE job_id = :job AND moment = :moment",
        [&](Statement& select) { select.bindId(":job", job.id.uuid).bindText(":moment", moment); },
        std::move(wanted));
}

core::Result<void> keepOfCall(UnitOfWork& unit, Session& session, const core::FollowUp& followUp,
                              std::optional<StoredOdometer> wanted) {
    return keepOne(
        unit, session, "WHERE follow_up_id = :call",
        [&](Statement& select) { select.bindId(":call", followUp.id.uuid); }, std::move(wanted));
}

} // namespace

core::Result<core::VehicleHistory> readHistory(Session& session, core::VehicleId id) {
    core::VehicleHistory history;
    auto vehicle = findRecord<core::Vehicle>(session, id.uuid);
    if (!vehicle)
        return core::failureOf(vehicle);
    history.vehicle = std::move(*vehicle);
    if (history.vehicle.customer) {
        auto customer = findRecord<core::Customer>(session, history.vehicle.customer->uuid);
        if (!customer)
            return core::failureOf(customer);
        history.doNotCall = customer->doNotCall;
    }
    const Bind bind = [&](Statement& select) { select.bindId(":vehicle", id.uuid); };
    auto jobs =
        readWhere<core::Job>(session, "WHERE vehicle_id = :vehicle ORDER BY written_up, number", bind);
    if (!jobs)
        return core::failureOf(jobs);
    history.jobs = std::move(*jobs);
    auto calls = readWhere<core::FollowUp>(
        session, "WHERE job_id IN (SELECT id FROM job WHERE vehicle_id = :vehicle) ORDER BY date, id", bind);
    if (!calls)
        return core::failureOf(calls);
    history.followUps = std::move(*calls);
    auto readings = readWhere<StoredOdometer>(
        session, "WHERE vehicle_id = :vehicle AND source = 'typed' ORDER BY date, shown, id", bind);
    if (!readings)
        return core::failureOf(readings);
    for (const auto& reading : *readings)
        history.odometers.push_back(reading.reading());
    return history;
}

core::Result<void> keepOdometers(UnitOfWork& unit, Session& session, const core::Job& job) {
    // A voided job drops out of every figure, and this shop has not seen the instrument at a repair done
    // elsewhere.
    if (job.isVoid() || job.kind == core::JobKind::Elsewhere)
        return dropOdometersOf(unit, session, job);
    const auto wanted = [&](const std::optional<core::Distance>& shown, core::Date date,
                            std::string_view moment) {
        std::optional<StoredOdometer> reading;
        if (!shown)
            return reading;
        return std::optional(StoredOdometer{.id = {},
                                            .vehicle = job.vehicle,
                                            .date = date,
                                            .shown = *shown,
                                            .source = core::OdometerSource::Job,
                                            .resetOffset = {},
                                            .job = job.id,
                                            .followUp = {},
                                            .moment = std::string(moment)});
    };
    if (auto kept = keepOfJob(unit, session, job, "in", wanted(job.odometerIn, job.writtenUp, "in")); !kept) {
        return kept;
    }
    const core::Date out = job.delivered.value_or(job.writtenUp);
    return keepOfJob(unit, session, job, "out", wanted(job.odometerOut, out, "out"));
}

core::Result<void> keepOdometers(UnitOfWork& unit, Session& session, const core::FollowUp& followUp,
                                 core::VehicleId vehicle) {
    // An estimate is no reading, and a voided call drops out of every figure.
    if (!followUp.odometer || followUp.odometerEstimated || followUp.isVoid())
        return dropOdometersOf(unit, session, followUp);
    return keepOfCall(unit, session, followUp,
                      StoredOdometer{.id = {},
                                     .vehicle = vehicle,
                                     .date = followUp.date,
                                     .shown = *followUp.odometer,
                                     .source = core::OdometerSource::Call,
                                     .resetOffset = {},
                                     .job = {},
                                     .followUp = followUp.id,
                                     .moment = {}});
}

core::Result<void> dropOdometersOf(UnitOfWork& unit, Session& session, const core::Job& job) {
    if (auto dropped = keepOfJob(unit, session, job, "in", std::nullopt); !dropped)
        return dropped;
    return keepOfJob(unit, session, job, "out", std::nullopt);
}

core::Result<void> dropOdometersOf(UnitOfWork& unit, Session& session, const core::FollowUp& followUp) {
    return keepOfCall(unit, session, followUp, std::nullopt);
}

} // namespace milehold::storage
