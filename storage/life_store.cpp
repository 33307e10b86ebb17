// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/life_store.h"

#include "core/life/life.h"
#include "core/shop/names.h"
#include "storage/records/histories.h"
#include "storage/records/read_shelf.h"
#include "storage/shop_open.h"

#include <algorithm>
#include <future>
#include <iterator>
#include <thread>

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

using Records = core::Result<std::vector<core::LifeRecord>>;

/// The lives of the vehicles [begin, end).
Records derivePart(const Histories& histories, std::size_t begin, std::size_t end,
                   const core::ShopSettings& rules, const core::Shelf& shelf, core::Date today) {
    std::vector<core::LifeRecord> records;
    core::VehicleHistory history;
    for (std::size_t vehicle = begin; vehicle < end; ++vehicle) {
        if (!histories.hasJobs(vehicle))
            continue;
        histories.fill(vehicle, history);
        auto lives = core::deriveLives(history, rules, today, &shelf);
        if (!lives)
            return core::failureOf(lives);
        for (auto& life : *lives)
            records.push_back(recordOf(std::move(life), history));
    }
    return records;
}

/// Vehicles from which on it pays to start another thread.
constexpr std::size_t kPartOfVehicles = 2'000;

Records derive(Session& session, const std::optional<core::VehicleId>& only, core::Date today) {
    const auto rules = readSettings(session);
    if (!rules)
        return core::failureOf(rules);
    const auto shelf = readShelf(session);
    if (!shelf)
        return core::failureOf(shelf);
    const auto histories = Histories::read(session, only);
    if (!histories)
        return core::failureOf(histories);
    // One vehicle's lives depend on no other vehicle.
    const std::size_t threads = std::clamp<std::size_t>(histories->size() / kPartOfVehicles, 1,
                                                        std::max(1U, std::thread::hardware_concurrency()));
    const auto part = [&](std::size_t i) {
        return derivePart(*histories, histories->size() * i / threads, histories->size() * (i + 1) / threads,
                          *rules, *shelf, today);
    };
    std::vector<std::future<Records>> others;
    for (std::size_t i = 1; i < threads; ++i)
        others.push_back(std::async(std::launch::async | std::launch::deferred, part, i));
    Records all = part(0);
    for (auto& other : others) {
        Records more = other.get();
        if (!all)
            continue;
        if (more)
            all->insert(all->end(), std::make_move_iterator(more->begin()),
                        std::make_move_iterator(more->end()));
        else
            all = std::move(more);
    }
    return all;
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
