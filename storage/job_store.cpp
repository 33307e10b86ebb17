// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/job_store.h"

#include "core/shop/validation.h"
#include "storage/database/text.h"
#include "storage/records/history.h"
#include "storage/records/read_shelf.h"
#include "storage/records/repository.h"

namespace milehold::storage {

using core::ErrorCode;

namespace {

/// Makes the ids that the caller left to the store, so that the records name each other.
void completeIds(JobBundle& bundle) {
    if (bundle.job.id.isNull())
        bundle.job.id = makeId<core::JobId>();
    if (bundle.customer && bundle.customer->id.isNull()) {
        bundle.customer->id = makeId<core::CustomerId>();
        if (bundle.vehicle)
            bundle.vehicle->customer = bundle.customer->id;
    }
    if (bundle.vehicle && bundle.vehicle->id.isNull()) {
        bundle.vehicle->id = makeId<core::VehicleId>();
        bundle.job.vehicle = bundle.vehicle->id;
    }
}

/// The vehicle's history as it will be once the bundle's vehicle is saved.
core::Result<core::VehicleHistory> historyFor(Session& session, const JobBundle& bundle) {
    auto history = readHistory(session, bundle.job.vehicle);
    if (!history && history.error().code == ErrorCode::NotFound && bundle.vehicle) {
        history = core::VehicleHistory{};
    }
    if (history && bundle.vehicle)
        history->vehicle = *bundle.vehicle;
    return history;
}

void append(core::Findings& all, core::Findings findings, std::string_view prefix) {
    for (auto& finding : findings) {
        finding.field.insert(0, prefix);
        all.push_back(std::move(finding));
    }
}

core::Result<core::Findings> findingsOf(Session& session, const JobBundle& bundle) {
    auto history = historyFor(session, bundle);
    if (!history)
        return core::failureOf(history);
    auto shelf = shelfOfUnit(session);
    if (!shelf)
        return core::failureOf(shelf);
    core::Findings all = core::validate(bundle.job, **shelf, *history);
    if (bundle.vehicle)
        append(all, core::validate(*bundle.vehicle), "vehicle.");
    if (bundle.customer)
        append(all, core::validate(*bundle.customer), "customer.");
    return all;
}

/// The next number of the shop's counter, or the one that the job brings along, which the counter then
/// passes.
core::Result<std::int64_t> numberFor(Session& session, std::int64_t wanted) {
    Statement count(session,
                    "UPDATE counter SET next = CASE WHEN CAST(:wanted AS BIGINT) >= next THEN "
                    "CAST(:wanted_too AS BIGINT) + 1 "
                    "WHEN CAST(:given AS BIGINT) > 0 THEN next "
                    "ELSE next + 1 END WHERE name = 'job' RETURNING next - 1",
                    "count a job");
    count.bindInt(":wanted", wanted).bindInt(":wanted_too", wanted).bindInt(":given", wanted);
    if (auto ran = count.run(); !ran)
        return core::failureOf(ran);
    const auto row = count.next();
    if (!row)
        return core::failureOf(row);
    if (!*row)
        return core::fail(ErrorCode::Unreadable, "the counter of job numbers is missing");
    return wanted > 0 ? wanted : count.integer(0);
}

core::Result<core::Job> saveJob(UnitOfWork& unit, Session& session, core::Job job) {
    const auto readings = job.revision == 0 ? Readings::AreNew : Readings::MayBeThere;
    if (job.revision == 0) {
        auto number = numberFor(session, job.number);
        if (!number)
            return core::failureOf(number);
        job.number = *number;
    }
    auto saved = saveRecord(unit, session, std::move(job));
    if (!saved)
        return saved;
    if (auto kept = keepOdometers(unit, session, *saved, readings); !kept)
        return core::failureOf(kept);
    return saved;
}

/// Loads the job at the revision asked for, changes it and saves it by the rules.
template <class Change>
core::Result<core::Job> changeJob(Session& session, core::JobId id, std::int64_t revision, Change change) {
    return inOneUnit(session, [&](UnitOfWork& unit) -> core::Result<core::Job> {
        auto job = findRecord<core::Job>(session, id.uuid);
        if (!job)
            return job;
        if (job->revision != revision)
            return conflict("job");
        change(*job);
        const auto found = findingsOf(session, {*job, std::nullopt, std::nullopt});
        if (!found)
            return core::failureOf(found);
        if (auto allowed = refuseErrors("job", *found); !allowed)
            return core::failureOf(allowed);
        return saveJob(unit, session, std::move(*job));
    });
}

} // namespace

core::Result<core::Job> JobStore::find(core::JobId id) const {
    return findRecord<core::Job>(session_, id.uuid);
}

core::Result<std::optional<core::Job>> JobStore::findByNumber(std::int64_t number) const {
    auto found = readWhere<core::Job>(session_, "WHERE number = :number",
                                      [&](Statement& select) { select.bindInt(":number", number); });
    if (!found)
        return core::failureOf(found);
    if (found->empty())
        return std::optional<core::Job>();
    return std::optional(std::move(found->front()));
}

core::Result<core::Findings> JobStore::check(const JobBundle& bundle) const {
    JobBundle complete = bundle;
    completeIds(complete);
    return findingsOf(session_, complete);
}

core::Result<JobBundle> JobStore::save(JobBundle bundle) {
    completeIds(bundle);
    if (bundle.vehicle && bundle.vehicle->id != bundle.job.vehicle) {
        return core::fail(ErrorCode::InvalidInput, "the job is of another vehicle than its bundle");
    }
    return inOneUnit(session_, [&](UnitOfWork& unit) -> core::Result<JobBundle> {
        JobBundle stored = bundle;
        // In the same transaction as the save, so that nothing comes between the check and what it saw.
        const auto found = findingsOf(session_, bundle);
        if (!found)
            return core::failureOf(found);
        if (auto allowed = refuseErrors("job", *found); !allowed)
            return core::failureOf(allowed);
        if (bundle.customer) {
            auto saved = saveRecord(unit, session_, *bundle.customer);
            if (!saved)
                return core::failureOf(saved);
            stored.customer = std::move(*saved);
        }
        if (bundle.vehicle) {
            auto saved = saveRecord(unit, session_, *bundle.vehicle);
            if (!saved)
                return core::failureOf(saved);
            stored.vehicle = std::move(*saved);
        }
        auto saved = saveJob(unit, session_, bundle.job);
        if (!saved)
            return core::failureOf(saved);
        stored.job = std::move(*saved);
        return stored;
    });
}

core::Result<core::Job> JobStore::voidJob(core::JobId id, std::int64_t revision, std::string reason) {
    if (folded(reason).empty())
        return core::fail(ErrorCode::InvalidInput, "a job is voided with a reason");
    return changeJob(session_, id, revision, [&](core::Job& job) { job.voidReason = reason; });
}

core::Result<core::Job> JobStore::unvoidJob(core::JobId id, std::int64_t revision) {
    return changeJob(session_, id, revision, [](core::Job& job) { job.voidReason.clear(); });
}

core::Result<void> JobStore::remove(core::JobId id, std::int64_t revision) {
    return inOneUnit(session_, [&](UnitOfWork& unit) -> core::Result<void> {
        const auto job = findRecord<core::Job>(session_, id.uuid);
        if (!job)
            return core::failureOf(job);
        if (job->isDelivered()) {
            return core::fail(ErrorCode::InvalidInput, "a delivered job is voided, never removed");
        }
        if (auto dropped = dropOdometersOf(unit, session_, *job); !dropped)
            return dropped;
        return removeRecord<core::Job>(unit, session_, id.uuid, revision);
    });
}

} // namespace milehold::storage
