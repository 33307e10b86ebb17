// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/follow_up_store.h"

#include "core/shop/validation.h"
#include "storage/records/history.h"
#include "storage/records/repository.h"

namespace milehold::storage {

namespace {

core::Result<void> markDoNotCall(UnitOfWork& unit, Session& session, core::VehicleId id) {
    const auto vehicle = findRecord<core::Vehicle>(session, id.uuid);
    if (!vehicle)
        return core::failureOf(vehicle);
    if (!vehicle->customer)
        return {};
    auto customer = findRecord<core::Customer>(session, vehicle->customer->uuid);
    if (!customer)
        return core::failureOf(customer);
    customer->doNotCall = true;
    auto saved = saveRecord(unit, session, std::move(*customer));
    if (!saved)
        return core::failureOf(saved);
    return {};
}

} // namespace

core::Result<core::FollowUp> FollowUpStore::find(core::FollowUpId id) const {
    return findRecord<core::FollowUp>(session_, id.uuid);
}

core::Result<std::vector<core::FollowUp>> FollowUpStore::ofJob(core::JobId job) const {
    return readWhere<core::FollowUp>(session_, "WHERE job_id = :job ORDER BY date, id",
                                     [&](Statement& select) { select.bindId(":job", job.uuid); });
}

core::Result<core::FollowUp> FollowUpStore::save(core::FollowUp followUp) {
    return inOneUnit(session_, [&](UnitOfWork& unit) -> core::Result<core::FollowUp> {
        const auto job = findRecord<core::Job>(session_, followUp.job.uuid);
        if (!job)
            return core::failureOf(job);
        const auto history = readHistory(session_, job->vehicle);
        if (!history)
            return core::failureOf(history);
        if (auto allowed = refuseErrors("follow_up", core::validate(followUp, *history)); !allowed) {
            return core::failureOf(allowed);
        }
        auto saved = saveRecord(unit, session_, std::move(followUp));
        if (!saved)
            return saved;
        if (auto kept = keepOdometers(unit, session_, *saved, job->vehicle); !kept)
            return core::failureOf(kept);
        if (saved->outcome == core::FollowUpOutcome::DoNotCall) {
            if (auto marked = markDoNotCall(unit, session_, job->vehicle); !marked)
                return core::failureOf(marked);
        }
        return saved;
    });
}

core::Result<void> FollowUpStore::remove(core::FollowUpId id, std::int64_t revision) {
    return inOneUnit(session_, [&](UnitOfWork& unit) -> core::Result<void> {
        const auto stored = findRecord<core::FollowUp>(session_, id.uuid);
        if (!stored)
            return core::failureOf(stored);
        if (auto dropped = dropOdometersOf(unit, session_, *stored); !dropped)
            return dropped;
        return removeRecord<core::FollowUp>(unit, session_, id.uuid, revision);
    });
}

} // namespace milehold::storage
