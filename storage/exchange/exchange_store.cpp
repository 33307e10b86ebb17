// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/exchange_store.h"

#include "core/shop/search_key.h"
#include "storage/database/each_row.h"
#include "storage/database/text.h"
#include "storage/records/read_shelf.h"
#include "storage/records/repository.h"
#include "storage/records/stored.h"
#include "storage/shop_open.h"

#include <algorithm>

namespace milehold::storage {

namespace {

/// Hands every record of a type over without keeping them all.
template <class T, class Take>
core::Result<void> each(Session& session, std::string_view condition, Take take) {
    Statement select(session, recordSql<T>().select + " " + std::string(condition), recordSql<T>().reading);
    return eachRow(select, [&]() -> core::Result<void> {
        auto record = readRecord<T>(session, select);
        if (!record)
            return core::failureOf(record);
        return take(std::move(*record));
    });
}

core::Result<VehicleName> nameOf(Session& session, core::VehicleId id) {
    auto vehicle = findRecord<core::Vehicle>(session, id.uuid);
    if (!vehicle)
        return core::failureOf(vehicle);
    return VehicleName{id, vehicle->vin, vehicle->plate};
}

template <class IdType, class Bind>
core::Result<std::vector<IdType>> ids(Session& session, std::string_view sql, const Bind& bind) {
    Statement select(session, sql, "find what a file names");
    bind(select);
    std::vector<IdType> found;
    const auto read = eachRow(select, [&] { found.push_back(IdType{select.id(0)}); });
    if (!read)
        return core::failureOf(read);
    return found;
}

} // namespace

core::Result<SheetContext> ExchangeStore::context() const {
    SheetContext context;
    auto settings = readSettings(session_);
    if (!settings)
        return core::failureOf(settings);
    auto shelf = readShelf(session_);
    if (!shelf)
        return core::failureOf(shelf);
    auto staff = readAll<core::Staff>(session_, "ORDER BY name, id");
    if (!staff)
        return core::failureOf(staff);
    return SheetContext{std::move(*settings), std::move(*shelf), std::move(*staff)};
}

core::Result<void> ExchangeStore::eachCustomer(const std::function<void(const core::Customer&)>& take) const {
    return each<core::Customer>(session_, "ORDER BY rowid", [&](const core::Customer& customer) {
        take(customer);
        return core::Result<void>();
    });
}

core::Result<void> ExchangeStore::eachVehicle(const std::function<void(const VehicleLine&)>& take) const {
    return each<core::Vehicle>(session_, "ORDER BY rowid", [&](core::Vehicle vehicle) -> core::Result<void> {
        VehicleLine line{std::move(vehicle), {}, {}};
        if (line.vehicle.customer) {
            auto customer = findRecord<core::Customer>(session_, line.vehicle.customer->uuid);
            if (!customer)
                return core::failureOf(customer);
            line.customerName = customer->name;
            if (!customer->phones.empty())
                line.customerPhone = customer->phones.front();
        }
        take(line);
        return {};
    });
}

core::Result<void> ExchangeStore::eachJob(const std::function<void(const JobLine&)>& take) const {
    return each<core::Job>(session_, "ORDER BY number", [&](core::Job job) -> core::Result<void> {
        JobLine line{std::move(job), {}, {}};
        auto vehicle = nameOf(session_, line.job.vehicle);
        if (!vehicle)
            return core::failureOf(vehicle);
        line.vehicle = std::move(*vehicle);
        if (line.job.comebackOf) {
            const auto earlier = findRecord<core::Job>(session_, line.job.comebackOf->uuid);
            if (!earlier)
                return core::failureOf(earlier);
            line.comebackOf = earlier->number;
        }
        take(line);
        return {};
    });
}

core::Result<void> ExchangeStore::eachFollowUp(const std::function<void(const FollowUpLine&)>& take) const {
    return each<core::FollowUp>(session_, "ORDER BY date, rowid",
                                [&](core::FollowUp call) -> core::Result<void> {
                                    FollowUpLine line{std::move(call), {}};
                                    const auto job = findRecord<core::Job>(session_, line.followUp.job.uuid);
                                    if (!job)
                                        return core::failureOf(job);
                                    line.job = job->number;
                                    take(line);
                                    return {};
                                });
}

core::Result<void> ExchangeStore::eachOdometer(const std::function<void(const OdometerLine&)>& take) const {
    return each<StoredOdometer>(session_, "WHERE source = 'typed' ORDER BY date, rowid",
                                [&](const StoredOdometer& row) -> core::Result<void> {
                                    auto vehicle = nameOf(session_, row.vehicle);
                                    if (!vehicle)
                                        return core::failureOf(vehicle);
                                    take({row.reading(), std::move(*vehicle)});
                                    return {};
                                });
}

core::Result<std::vector<core::CustomerId>> ExchangeStore::customersNamed(std::string_view name,
                                                                          std::string_view phone) const {
    auto found = ids<core::CustomerId>(session_, "SELECT id FROM customer WHERE name = :name ORDER BY id",
                                       [&](Statement& select) { select.bindText(":name", name); });
    if (!found)
        return found;
    const std::string digits = core::phoneKey(phone);
    if (digits.empty())
        return found;
    std::vector<core::CustomerId> kept;
    for (const auto& id : *found) {
        const auto customer = findRecord<core::Customer>(session_, id.uuid);
        if (!customer)
            return core::failureOf(customer);
        if (std::ranges::any_of(customer->phones,
                                [&](const auto& one) { return core::phoneKey(one) == digits; }))
            kept.push_back(id);
    }
    return kept;
}

core::Result<std::vector<core::VehicleId>> ExchangeStore::vehiclesNamed(const VehicleName& name) const {
    if (name.id)
        return ids<core::VehicleId>(session_, "SELECT id FROM vehicle WHERE id = :id",
                                    [&](Statement& select) { select.bindId(":id", name.id->uuid); });
    if (!name.vin.empty())
        return ids<core::VehicleId>(session_, "SELECT id FROM vehicle WHERE vin = :vin AND vin <> ''",
                                    [&](Statement& select) { select.bindText(":vin", name.vin); });
    const std::string key = codeKey(name.plate);
    if (key.empty())
        return std::vector<core::VehicleId>();
    return ids<core::VehicleId>(session_, "SELECT id FROM vehicle WHERE plate_key = :plate ORDER BY id",
                                [&](Statement& select) { select.bindText(":plate", key); });
}

core::Result<std::vector<core::JobId>> ExchangeStore::jobsOf(core::VehicleId vehicle, core::Date writtenUp,
                                                             std::string_view repairOrder) const {
    return ids<core::JobId>(session_,
                            "SELECT id FROM job WHERE vehicle_id = :vehicle AND written_up = :day "
                            "AND repair_order = :order ORDER BY number",
                            [&](Statement& select) {
                                select.bindId(":vehicle", vehicle.uuid)
                                    .bindText(":day", core::toIso(writtenUp))
                                    .bindText(":order", repairOrder);
                            });
}

core::Result<std::vector<core::OdometerId>>
ExchangeStore::odometersOf(core::VehicleId vehicle, core::Date date, core::Distance shown) const {
    return ids<core::OdometerId>(
        session_,
        "SELECT id FROM odometer WHERE vehicle_id = :vehicle AND date = :day AND shown = :shown "
        "AND source = 'typed' ORDER BY id",
        [&](Statement& select) {
            select.bindId(":vehicle", vehicle.uuid)
                .bindText(":day", core::toIso(date))
                .bindInt(":shown", shown.metres());
        });
}

core::Result<std::optional<core::OdometerReading>> ExchangeStore::odometer(core::OdometerId id) const {
    auto found = readWhere<StoredOdometer>(session_, "WHERE id = :id AND source = 'typed'",
                                           [&](Statement& select) { select.bindId(":id", id.uuid); });
    if (!found)
        return core::failureOf(found);
    if (found->empty())
        return std::optional<core::OdometerReading>();
    return std::optional(found->front().reading());
}

core::Result<void> ExchangeStore::noteExport(std::string_view what, std::size_t rows, bool anonymous) {
    return inOneUnit(session_, [&](UnitOfWork& unit) {
        return unit.log(ChangeAction::Export, what, {},
                        {{"rows", {}, intValue(static_cast<std::int64_t>(rows)), false},
                         {"anonymous", {}, intValue(anonymous ? 1 : 0), false}});
    });
}

} // namespace milehold::storage
