// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/vehicle_store.h"

#include "core/shop/validation.h"
#include "core/shop/vin.h"
#include "storage/database/text.h"
#include "storage/records/history.h"
#include "storage/records/repository.h"
#include "storage/records/search.h"
#include "storage/records/stored.h"

#include <algorithm>

namespace milehold::storage {

namespace {

core::Result<VehicleHit> hitOf(Session& session, const FoundVehicle& found) {
    Statement select(
        session,
        "SELECT v.vin, v.plate, v.maker, v.model, v.model_year, v.customer_id, coalesce(c.name, ''), "
        "coalesce((SELECT p.phone FROM customer_phone p WHERE p.customer_id = c.id AND p.place = 0), ''), "
        "j.number, coalesce(j.delivered, j.written_up) "
        "FROM vehicle v LEFT JOIN customer c ON c.id = v.customer_id "
        "LEFT JOIN job j ON j.id = (SELECT n.id FROM job n WHERE n.vehicle_id = v.id "
        "AND n.void_reason = '' ORDER BY n.written_up DESC, n.number DESC LIMIT 1) WHERE v.id = :id",
        "read a search hit");
    select.bindId(":id", found.id.uuid);
    if (auto ran = select.run(); !ran)
        return core::failureOf(ran);
    const auto row = select.next();
    if (!row)
        return core::failureOf(row);
    VehicleHit hit;
    hit.id = found.id;
    hit.foundIn = found.in;
    if (!*row)
        return hit;
    hit.vin = select.text(0);
    hit.plate = select.text(1);
    hit.maker = select.text(2);
    hit.model = select.text(3);
    if (!select.isNull(4))
        hit.modelYear = static_cast<int>(select.integer(4));
    if (!select.isNull(5))
        hit.customer = core::CustomerId{select.id(5)};
    hit.customerName = select.text(6);
    hit.phone = select.text(7);
    hit.lastJobNumber = select.integer(8);
    hit.lastJobOn = select.date(9);
    return hit;
}

core::Result<std::vector<FoundVehicle>> newestVehicles(Session& session, std::size_t limit) {
    Statement select(session,
                     "SELECT vehicle_id FROM job "
                     "ORDER BY number DESC",
                     "list the newest vehicles");
    if (auto ran = select.run(); !ran)
        return core::failureOf(ran);
    std::vector<FoundVehicle> found;
    while (found.size() < limit) {
        const auto more = select.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            break;
        const core::VehicleId id{select.id(0)};
        if (std::ranges::find(found, id, &FoundVehicle::id) == found.end())
            found.push_back({id, FoundIn::Vin});
    }
    return found;
}

} // namespace

core::Result<core::Vehicle> VehicleStore::find(core::VehicleId id) const {
    return findRecord<core::Vehicle>(session_, id.uuid);
}

core::Result<std::optional<core::Vehicle>> VehicleStore::findByVin(std::string_view vin) const {
    const std::string wanted = core::vinFromScan(vin);
    if (wanted.empty())
        return std::optional<core::Vehicle>();
    auto found = readWhere<core::Vehicle>(session_, "WHERE vin = :vin AND vin <> ''",
                                          [&](Statement& select) { select.bindText(":vin", wanted); });
    if (!found)
        return core::failureOf(found);
    if (found->empty())
        return std::optional<core::Vehicle>();
    return std::optional(std::move(found->front()));
}

core::Result<std::vector<VehicleHit>> VehicleStore::search(std::string_view text, std::size_t limit) const {
    auto found =
        folded(text).empty() ? newestVehicles(session_, limit) : searchVehicles(session_, text, limit);
    if (!found)
        return core::failureOf(found);
    std::vector<VehicleHit> hits;
    hits.reserve(found->size());
    for (const auto& one : *found) {
        auto hit = hitOf(session_, one);
        if (!hit)
            return core::failureOf(hit);
        hits.push_back(std::move(*hit));
    }
    return hits;
}

core::Result<core::VehicleHistory> VehicleStore::history(core::VehicleId id) const {
    return readHistory(session_, id);
}

core::Result<core::Vehicle> VehicleStore::save(core::Vehicle vehicle) {
    if (auto allowed = refuseErrors("vehicle", core::validate(vehicle)); !allowed)
        return core::failureOf(allowed);
    return inOneUnit(session_, [&](UnitOfWork& unit) { return saveRecord(unit, session_, vehicle); });
}

core::Result<core::OdometerReading> VehicleStore::saveOdometer(core::OdometerReading reading) {
    if (reading.source != core::OdometerSource::Typed) {
        return core::fail(core::ErrorCode::InvalidInput, "what a job or a call brought is changed there");
    }
    return inOneUnit(session_, [&](UnitOfWork& unit) -> core::Result<core::OdometerReading> {
        const auto history = readHistory(session_, reading.vehicle);
        if (!history)
            return core::failureOf(history);
        if (auto allowed = refuseErrors("odometer", core::validate(reading, *history)); !allowed) {
            return core::failureOf(allowed);
        }
        StoredOdometer row{.id = reading.id,
                           .vehicle = reading.vehicle,
                           .date = reading.date,
                           .shown = reading.shown,
                           .source = reading.source,
                           .resetOffset = reading.resetOffset,
                           .job = {},
                           .followUp = {},
                           .moment = {},
                           .revision = reading.revision};
        auto saved = saveRecord(unit, session_, row);
        if (!saved)
            return core::failureOf(saved);
        return saved->reading();
    });
}

core::Result<void> VehicleStore::removeOdometer(core::OdometerId id, std::int64_t revision) {
    return inOneUnit(session_, [&](UnitOfWork& unit) -> core::Result<void> {
        const auto stored = findRecord<StoredOdometer>(session_, id.uuid);
        if (!stored)
            return core::failureOf(stored);
        if (stored->source != core::OdometerSource::Typed) {
            return core::fail(core::ErrorCode::InvalidInput, "what a job or a call brought is changed there");
        }
        return removeRecord<StoredOdometer>(unit, session_, id.uuid, revision);
    });
}

core::Result<void> VehicleStore::remove(core::VehicleId id, std::int64_t revision) {
    return inOneUnit(session_, [&](UnitOfWork& unit) {
        return removeRecord<core::Vehicle>(unit, session_, id.uuid, revision);
    });
}

} // namespace milehold::storage
