// SPDX-License-Identifier: GPL-3.0-or-later
// The lists of JobStore.
#include "storage/database/statement.h"
#include "storage/database/text.h"
#include "storage/job_store.h"
#include "storage/records/codec.h"
#include "storage/records/record_sql.h"
#include "storage/records/search.h"

#include <algorithm>
#include <functional>
#include <unordered_set>

namespace milehold::storage {

namespace {

constexpr std::string_view kSelect =
    "SELECT j.id, j.number, j.repair_order, j.kind, j.concern_group, j.vehicle_id, v.vin, v.plate, v.maker, "
    "v.model, "
    "v.model_year, v.family_id, v.customer_id, coalesce(c.name, ''), j.path_id, coalesce(p.name, ''), "
    "j.technician_id, "
    "coalesce(s.name, ''), j.written_up, j.delivered, j.odometer_in, j.odometer_out, j.delivery_check, "
    "j.comeback_of, "
    "j.comeback_decision, j.parts_price + j.labour_price + j.sublet + j.tax - j.discount, j.void_reason, "
    "j.rev "
    "FROM job j JOIN vehicle v ON v.id = j.vehicle_id LEFT JOIN customer c ON c.id = v.customer_id "
    "LEFT JOIN repair_path p ON p.id = j.path_id LEFT JOIN staff s ON s.id = j.technician_id ";

core::Result<JobRow> rowIn(const Statement& row) {
    JobRow job;
    std::string voidReason;
    int index = 0;
    bool known = true;
    const auto take = [&](auto& field) { known = decode(row.value(index++), field) && known; };
    take(job.id);
    take(job.number);
    take(job.repairOrder);
    take(job.kind);
    take(job.concernGroup);
    take(job.vehicle);
    take(job.vin);
    take(job.plate);
    take(job.maker);
    take(job.model);
    take(job.modelYear);
    take(job.family);
    take(job.customer);
    take(job.customerName);
    take(job.path);
    take(job.pathName);
    take(job.technician);
    take(job.technicianName);
    take(job.writtenUp);
    take(job.delivered);
    take(job.odometerIn);
    take(job.odometerOut);
    take(job.deliveryCheck);
    take(job.comebackOf);
    take(job.comebackDecision);
    take(job.total);
    take(voidReason);
    take(job.revision);
    if (!known)
        return unknownValue("job", "in a list");
    job.voided = !voidReason.empty();
    return job;
}

bool isInScope(const JobRow& job, JobScope scope) {
    switch (scope) {
    case JobScope::All:
        return true;
    case JobScope::InWork:
        return !job.delivered && !job.voided;
    case JobScope::Delivered:
        return job.delivered && !job.voided;
    case JobScope::Void:
        return job.voided;
    }
    return false;
}

bool matches(const JobRow& job, const JobFilter& filter) {
    return isInScope(job, filter.scope) && (!filter.path || job.path == filter.path) &&
           (!filter.technician || job.technician == filter.technician) &&
           (!filter.vehicle || job.vehicle == *filter.vehicle);
}

/// Reads rows in the order of the statement until `limit` of them match.
core::Result<void> collect(Session& session, const std::string& condition,
                           const std::function<void(Statement&)>& bind,
                           const std::function<bool(const JobRow&)>& wanted, std::size_t limit,
                           std::vector<JobRow>& into) {
    Statement select(session, std::string(kSelect) + condition, "list jobs");
    bind(select);
    if (auto ran = select.run(); !ran)
        return ran;
    while (into.size() < limit) {
        const auto more = select.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            break;
        auto job = rowIn(select);
        if (!job)
            return core::failureOf(job);
        if (wanted(*job))
            into.push_back(std::move(*job));
    }
    return {};
}

std::string_view scopeCondition(JobScope scope) {
    switch (scope) {
    case JobScope::All:
        break;
    case JobScope::InWork:
        return " AND j.delivered IS NULL AND j.void_reason = ''";
    case JobScope::Delivered:
        return " AND j.delivered IS NOT NULL AND j.void_reason = ''";
    case JobScope::Void:
        return " AND j.void_reason <> ''";
    }
    return "";
}

/// Conditions that indices serve, each a literal; values are bound.
core::Result<std::vector<JobRow>> rowsByColumns(Session& session, const JobFilter& filter) {
    std::string condition = "WHERE 1 = 1";
    condition += scopeCondition(filter.scope);
    if (filter.path)
        condition += " AND j.path_id = :path";
    if (filter.technician)
        condition += " AND j.technician_id = :technician";
    if (filter.vehicle)
        condition += " AND j.vehicle_id = :vehicle";
    condition += " ORDER BY j.number DESC LIMIT :most";
    std::vector<JobRow> rows;
    auto read = collect(
        session, condition,
        [&](Statement& select) {
            if (filter.path)
                select.bindId(":path", filter.path->uuid);
            if (filter.technician)
                select.bindId(":technician", filter.technician->uuid);
            if (filter.vehicle)
                select.bindId(":vehicle", filter.vehicle->uuid);
            select.bindInt(":most", static_cast<std::int64_t>(filter.limit));
        },
        [](const JobRow&) { return true; }, filter.limit, rows);
    if (!read)
        return core::failureOf(read);
    return rows;
}

/// Rows of given jobs, or of all jobs of given vehicles, one indexed look-up each.
core::Result<std::vector<JobRow>> rowsByKeys(Session& session, const JobFilter& filter) {
    std::vector<JobRow> rows;
    std::unordered_set<core::JobId> named(filter.ids.begin(), filter.ids.end());
    const auto wanted = [&](const JobRow& job) {
        return matches(job, filter) && (named.empty() || named.contains(job.id));
    };
    if (filter.text.empty()) {
        for (const auto& id : filter.ids) {
            auto read = collect(
                session, "WHERE j.id = :id", [&](Statement& select) { select.bindId(":id", id.uuid); },
                wanted, rows.size() + 1, rows);
            if (!read)
                return core::failureOf(read);
        }
    } else {
        constexpr std::size_t kMostVehicles = 1000;
        const auto vehicles = searchVehicles(session, filter.text, kMostVehicles);
        if (!vehicles)
            return core::failureOf(vehicles);
        for (const auto& vehicle : *vehicles) {
            auto read = collect(
                session, "WHERE j.vehicle_id = :vehicle ORDER BY j.number DESC",
                [&](Statement& select) { select.bindId(":vehicle", vehicle.id.uuid); }, wanted,
                rows.size() + filter.limit, rows);
            if (!read)
                return core::failureOf(read);
        }
    }
    std::ranges::sort(rows, std::ranges::greater(), &JobRow::number);
    const auto isSame = [](const JobRow& a, const JobRow& b) { return a.number == b.number; };
    rows.erase(std::unique(rows.begin(), rows.end(), isSame), rows.end());
    if (rows.size() > filter.limit)
        rows.resize(filter.limit);
    return rows;
}

} // namespace

core::Result<std::vector<JobRow>> JobStore::rows(const JobFilter& filter) const {
    JobFilter trimmed = filter;
    if (folded(filter.text).empty())
        trimmed.text.clear();
    if (trimmed.text.empty() && trimmed.ids.empty())
        return rowsByColumns(session_, trimmed);
    return rowsByKeys(session_, trimmed);
}

} // namespace milehold::storage
