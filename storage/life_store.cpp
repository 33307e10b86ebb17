// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/life_store.h"

#include "core/life/life.h"
#include "core/shop/names.h"
#include "storage/records/history_reader.h"
#include "storage/records/read_shelf.h"
#include "storage/shop_open.h"

#include <algorithm>

namespace milehold::storage {

namespace {

core::LifeRecord recordOf(core::Life life, const core::VehicleHistory& history) {
    core::LifeRecord record;
    record.family = history.vehicle.family;
    record.modelYear = history.vehicle.modelYear;
    record.vehicleLabel =
        core::vehicleName(history.vehicle.modelYear, history.vehicle.maker, history.vehicle.model);
    const auto job = std::ranges::find(history.jobs, life.job, &core::Job::id);
    if (job != history.jobs.end()) {
        record.jobNumber = job->number;
        record.repairOrder = job->repairOrder;
        record.technician = job->technician;
        record.calibration = job->calibrationAfter;
        for (const auto& part : job->parts) {
            if (std::ranges::find(record.parts, part.part) == record.parts.end())
                record.parts.push_back(part.part);
            core::FittedLot lot{part.part, part.lot};
            if (!lot.lot.empty() && std::ranges::find(record.lots, lot) == record.lots.end())
                record.lots.push_back(std::move(lot));
        }
    }
    record.life = std::move(life);
    return record;
}

core::Result<std::vector<core::LifeRecord>>
derive(Session& session, const std::optional<core::VehicleId>& only, core::Date today) {
    const auto rules = readSettings(session);
    if (!rules)
        return core::failureOf(rules);
    const auto shelf = readShelf(session);
    if (!shelf)
        return core::failureOf(shelf);
    HistoryReader reader(session, only);
    std::vector<core::LifeRecord> records;
    core::VehicleHistory history;
    while (true) {
        const auto more = reader.next(history);
        if (!more)
            return core::failureOf(more);
        if (!*more)
            return records;
        if (history.jobs.empty())
            continue;
        auto lives = core::deriveLives(history, *rules, today, &*shelf);
        if (!lives)
            return core::failureOf(lives);
        for (auto& life : *lives)
            records.push_back(recordOf(std::move(life), history));
    }
}

} // namespace

core::Result<std::vector<core::LifeRecord>> LifeStore::records(core::Date today) const {
    return derive(session_, std::nullopt, today);
}

core::Result<std::vector<core::LifeRecord>> LifeStore::recordsOf(core::VehicleId vehicle,
                                                                 core::Date today) const {
    return derive(session_, vehicle, today);
}

} // namespace milehold::storage
