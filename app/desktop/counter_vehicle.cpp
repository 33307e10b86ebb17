// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/counter_vehicle.h"

#include "app/desktop/last_odometer.h"
#include "core/quote/on_the_road.h"
#include "storage/shop.h"

namespace milehold::app {

namespace {

/// The newest delivered, not void job; null when there is none.
const core::Job* newestJob(const core::VehicleHistory& history) {
    const core::Job* newest = nullptr;
    for (const core::Job& job : history.jobs) {
        if (!job.isDelivered() || job.isVoid())
            continue;
        if (!newest || *job.delivered > *newest->delivered)
            newest = &job;
    }
    return newest;
}

} // namespace

ui::VehicleFound toFound(const storage::VehicleHit& hit) {
    ui::VehicleFound found;
    found.id = hit.id;
    found.vin = hit.vin;
    found.plate = hit.plate;
    found.maker = hit.maker;
    found.model = hit.model;
    found.modelYear = hit.modelYear;
    found.customer = hit.customerName;
    found.lastJobOn = hit.lastJobOn;
    return found;
}

ui::CounterVehicle counterVehicle(const core::VehicleHistory& history, const std::string& customer,
                                  const std::vector<core::LifeRecord>& lives, const core::ShopSettings& rules,
                                  core::Date today) {
    const core::Vehicle& vehicle = history.vehicle;
    ui::CounterVehicle shown;
    ui::VehicleFound found;
    found.id = vehicle.id;
    found.vin = vehicle.vin;
    found.plate = vehicle.plate;
    found.maker = vehicle.maker;
    found.model = vehicle.model;
    found.modelYear = vehicle.modelYear;
    found.customer = customer;
    if (const core::Job* job = newestJob(history))
        found.lastJobOn = job->delivered;
    shown.vehicle = found;
    shown.family = vehicle.family;
    shown.modelYear = vehicle.modelYear;
    shown.calibration = core::calibrationNow(history);
    shown.yearly = core::yearlyDistance(history, rules, today);
    if (const auto last = lastOdometer(history, today)) {
        shown.lastOdometer = last->shown;
        shown.lastOdometerOn = last->on;
    }
    if (const core::LifeRecord* running = core::runningLife(lives))
        shown.running = *running;
    return shown;
}

core::Result<ui::CounterVehicle> readCounterVehicle(storage::Shop& shop, core::VehicleId id,
                                                    const core::ShopSettings& rules, core::Date today) {
    auto history = shop.vehicles().history(id);
    if (!history)
        return core::failureOf(history);
    std::string customerName;
    if (history->vehicle.customer) {
        auto customer = shop.customers().find(*history->vehicle.customer);
        if (!customer)
            return core::failureOf(customer);
        customerName = customer->name;
    }
    auto lives = shop.lives().recordsOf(id, today);
    if (!lives)
        return core::failureOf(lives);
    return counterVehicle(*history, customerName, *lives, rules, today);
}

} // namespace milehold::app
