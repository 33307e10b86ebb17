// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/call_list.h"

#include "app/desktop/last_odometer.h"
#include "storage/shop.h"
#include "ui/counter/vehicle_words.h"
#include "ui/widgets/text.h"

#include <algorithm>

namespace milehold::app {

namespace {

core::Result<ui::CallToMake> readCall(storage::Shop& shop, const core::Shelf& shelf,
                                      const core::RankedCall& ranked, core::Date today) {
    ui::CallToMake call;
    call.call = ranked;
    const auto history = shop.vehicles().history(ranked.vehicle);
    if (!history)
        return core::failureOf(history);
    const core::Vehicle& vehicle = history->vehicle;
    ui::VehicleFound named;
    named.maker = vehicle.maker;
    named.model = vehicle.model;
    named.modelYear = vehicle.modelYear;
    named.plate = vehicle.plate;
    named.vin = vehicle.vin;
    call.vehicle = ui::toUtf8(ui::vehicleTitle(named));
    call.plate = vehicle.plate;
    if (vehicle.customer) {
        const auto customer = shop.customers().find(*vehicle.customer);
        if (!customer)
            return core::failureOf(customer);
        call.customer = customer->name;
        call.phones = customer->phones;
        call.bestTime = customer->bestTime;
        call.customerNote = customer->note;
    }
    const auto job = std::find_if(history->jobs.begin(), history->jobs.end(),
                                  [&](const core::Job& candidate) { return candidate.id == ranked.job; });
    if (job != history->jobs.end())
        call.jobNumber = job->number;
    const auto lives = shop.lives().recordsOf(ranked.vehicle, today);
    if (!lives)
        return core::failureOf(lives);
    for (const core::LifeRecord& record : *lives) {
        if (record.life.job != ranked.job)
            continue;
        call.repairedOn = record.life.repairedOn;
        call.lastKnownOn = record.life.lastKnownOn;
        call.known = record.life.known;
        if (const auto last = lastOdometer(*history, today))
            call.odometerNow = odometerOn(*last, record.life.yearly.perYear, today);
        const core::RepairPath* path = record.life.path ? shelf.find(*record.life.path) : nullptr;
        if (path)
            call.path = path->name;
    }
    return call;
}

} // namespace

core::Result<std::vector<ui::CallToMake>> readCalls(storage::Shop& shop, const core::Shelf& shelf,
                                                    const std::vector<core::RankedCall>& ranked,
                                                    std::size_t most, core::Date today) {
    std::vector<ui::CallToMake> calls;
    for (std::size_t i = 0; i < ranked.size() && i < most; ++i) {
        auto call = readCall(shop, shelf, ranked[i], today);
        if (!call)
            return core::failureOf(call);
        calls.push_back(std::move(*call));
    }
    return calls;
}

core::FollowUp followUpOf(const ui::CallAnswer& answer, core::Date today, std::optional<core::StaffId> by) {
    core::FollowUp followUp;
    followUp.job = answer.job;
    followUp.date = today;
    followUp.outcome = answer.outcome;
    followUp.odometer = answer.odometer;
    followUp.odometerEstimated = answer.odometerEstimated;
    followUp.noiseSince = answer.noiseSince;
    followUp.by = by;
    followUp.note = answer.note;
    return followUp;
}

} // namespace milehold::app
