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
                           std::optional<StoredOdometer> wanted, Readings readings) {
    auto stored = readings == Readings::AreNew ? core::Result<std::vector<StoredOdometer>>()
                                               : readWhere<StoredOdometer>(session, condition, bind);
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
                             std::string_view moment, std::optional<StoredOdometer> wanted,
                             Readings readings) {
    return keepOne(
        unit, session, "WHERE job_id = :job AND moment = :moment",
        [&](Statement& select) { select.bindId(":job", job.id.uuid).bindText(":moment", moment); },
        std::move(wanted), readings);
}

core::Result<void> keepOfCall(UnitOfWork& unit, Session& session, const core::FollowUp& followUp,
                              std::optional<StoredOdometer> wanted, Readings readings) {
    return keepOne(
        unit, session, "WHERE follow_up_id = :call",
        [&](Statement& select) { select.bindId(":call", followUp.id.uuid); }, std::move(wanted), readings);
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

core::Result<void> keepOdometers(UnitOfWork& unit, Session& session, const core::Job& job,
                                 Readings readings) {
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
    if (auto kept =
            keepOfJob(unit, session, job, "in", wanted(job.odometerIn, job.writtenUp, "in"), readings);
        !kept) {
        return kept;
    }
    const core::Date out = job.delivered.value_or(job.writtenUp);
    return keepOfJob(unit, session, job, "out", wanted(job.odometerOut, out, "out"), readings);
}

core::Result<void> keepOdometers(UnitOfWork& unit, Session& session, const core::FollowUp& followUp,
                                 core::VehicleId vehicle, Readings readings) {
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
                                     .moment = {}},
                      readings);
}

core::Result<void> dropOdometersOf(UnitOfWork& unit, Session& session, const core::Job& job) {
    if (auto dropped = keepOfJob(unit, session, job, "in", std::nullopt, Readings::MayBeThere); !dropped)
        return dropped;
    return keepOfJob(unit, session, job, "out", std::nullopt, Readings::MayBeThere);
}

core::Result<void> dropOdometersOf(UnitOfWork& unit, Session& session, const core::FollowUp& followUp) {
    return keepOfCall(unit, session, followUp, std::nullopt, Readings::MayBeThere);
}

} // namespace milehold::storage
