// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/follow_up_store.h"

#include "core/shop/validation.h"
#include "storage/database/each_row.h"
#include "storage/database/statement.h"
#include "storage/database/text.h"
#include "storage/records/history.h"
#include "storage/records/repository.h"

namespace milehold::storage {

namespace {

/// Who answered a call is left in peace for so long, even where the answer moved no known distance.
constexpr int kRestDays = 30;

/// The condition of a row `aliasSql` of follow_up that asks to call later and that no other answer has
/// overtaken.
std::string promiseSql(const std::string& aliasSql, const std::string& jobSql) {
    return aliasSql + ".job_id = " + jobSql + " AND " + aliasSql + ".void_reason = '' AND " + aliasSql +
           ".outcome = 'call-later' AND NOT EXISTS (SELECT 1 FROM follow_up n WHERE n.job_id = " + jobSql +
           " AND n.void_reason = '' AND n.outcome <> 'no-answer' AND (n.date > " + aliasSql +
           ".date OR (n.date = " + aliasSql + ".date AND n.rowid > " + aliasSql + ".rowid)))";
}

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

core::Result<core::VehicleId> vehicleOf(Session& session, core::JobId job) {
    Statement select(session, "SELECT vehicle_id FROM job WHERE id = :id", "read job");
    select.bindId(":id", job.uuid);
    if (auto ran = select.run(); !ran)
        return core::failureOf(ran);
    const auto found = select.next();
    if (!found)
        return core::failureOf(found);
    if (!*found)
        return core::fail(core::ErrorCode::NotFound, "no job with this id");
    return core::VehicleId{select.id(0)};
}

} // namespace

core::Result<core::FollowUp> FollowUpStore::find(core::FollowUpId id) const {
    return findRecord<core::FollowUp>(session_, id.uuid);
}

core::Result<std::vector<core::FollowUp>> FollowUpStore::ofJob(core::JobId job) const {
    return readWhere<core::FollowUp>(session_, "WHERE job_id = :job ORDER BY date, id",
                                     [&](Statement& select) { select.bindId(":job", job.uuid); });
}

core::Result<std::vector<core::CallFacts>> FollowUpStore::callFacts(core::Date today) const {
    Statement select(
        session_,
        "SELECT j.id, j.warranty_months, j.warranty_distance, "
        "(SELECT count(*) FROM follow_up f WHERE f.job_id = j.id AND f.void_reason = '' AND f.outcome = "
        "'no-answer' "
        "AND f.date > coalesce((SELECT max(g.date) FROM follow_up g WHERE g.job_id = j.id AND g.void_reason "
        "= '' "
        "AND g.outcome NOT IN ('no-answer', 'call-later')), '')), "
        "(SELECT max(coalesce(p.call_on, '')) FROM follow_up p WHERE " +
            promiseSql("p", "j.id") +
            ") "
            "FROM job j JOIN vehicle v ON v.id = j.vehicle_id JOIN customer c ON c.id = v.customer_id "
            "WHERE j.kind <> 'visit' AND j.delivered IS NOT NULL AND j.void_reason = '' "
            "AND c.do_not_call = 0 AND EXISTS (SELECT 1 FROM customer_phone p WHERE p.customer_id = c.id) "
            "AND NOT EXISTS (SELECT 1 FROM follow_up h WHERE h.job_id = j.id AND h.void_reason = '' "
            "AND (h.date >= :today "
            "OR (" +
            promiseSql("h", "j.id") +
            " AND ((h.call_on IS NULL AND h.date > :week) OR h.call_on > :promised)) "
            "OR (h.outcome NOT IN ('no-answer', 'call-later') AND h.date > :rested)))",
        "list who may be called");
    select.bindText(":today", core::toIso(today));
    select.bindText(":promised", core::toIso(today));
    select.bindText(":week", core::toIso(core::addDays(today, -7)));
    select.bindText(":rested", core::toIso(core::addDays(today, -kRestDays)));
    std::vector<core::CallFacts> facts;
    const auto read = eachRow(select, [&] {
        core::CallFacts fact;
        fact.job.uuid = select.id(0);
        if (!select.isNull(1))
            fact.warrantyMonths = static_cast<int>(select.integer(1));
        if (!select.isNull(2))
            fact.warrantyDistance = core::Distance::fromMetres(select.integer(2));
        fact.unanswered = static_cast<int>(select.integer(3));
        if (!select.isNull(4))
            fact.promisedOn = core::dateFromIso(select.text(4));
        facts.push_back(fact);
    });
    if (!read)
        return core::failureOf(read);
    return facts;
}

core::Result<core::FollowUp> FollowUpStore::save(core::FollowUp followUp) {
    return inOneUnit(session_, [&](UnitOfWork& unit) -> core::Result<core::FollowUp> {
        const auto vehicle = vehicleOf(session_, followUp.job);
        if (!vehicle)
            return core::failureOf(vehicle);
        const auto history = readHistory(session_, *vehicle);
        if (!history)
            return core::failureOf(history);
        if (auto allowed = refuseErrors("follow_up", core::validate(followUp, *history)); !allowed) {
            return core::failureOf(allowed);
        }
        const auto readings = followUp.revision == 0 ? Readings::AreNew : Readings::MayBeThere;
        auto saved = saveRecord(unit, session_, followUp);
        if (!saved)
            return saved;
        if (auto kept = keepOdometers(unit, session_, *saved, *vehicle, readings); !kept)
            return core::failureOf(kept);
        if (saved->outcome == core::FollowUpOutcome::DoNotCall && !saved->isVoid()) {
            if (auto marked = markDoNotCall(unit, session_, *vehicle); !marked)
                return core::failureOf(marked);
        }
        return saved;
    });
}

core::Result<core::FollowUp> FollowUpStore::voidCall(core::FollowUpId id, std::int64_t revision,
                                                     std::string reason) {
    if (folded(reason).empty())
        return core::fail(core::ErrorCode::InvalidInput, "an answer is voided with a reason");
    return inOneUnit(session_, [&](UnitOfWork&) -> core::Result<core::FollowUp> {
        auto stored = find(id);
        if (!stored)
            return stored;
        if (stored->revision != revision)
            return core::fail(core::ErrorCode::Conflict, "the answer was changed since");
        stored->voidReason = std::move(reason);
        return save(std::move(*stored));
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
