// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/vehicle_at_hand.h"

#include "ui/bay/bay_room.h"
#include "ui/counter/calls_panel.h"
#include "ui/counter/counter_room.h"
#include "ui/office/office_room.h"

namespace milehold::app {

namespace {

std::optional<core::VehicleId> ofCounter(const ui::CounterRoom& counter) {
    if (counter.showsCalls()) {
        const ui::CallsPanel& calls = *counter.calls();
        const int row = calls.currentCall();
        return row < 0 ? std::nullopt
                       : std::optional(calls.calls()[static_cast<std::size_t>(row)].call.vehicle);
    }
    const auto shown = counter.vehicle().vehicle;
    return shown ? std::optional(shown->id) : std::nullopt;
}

std::optional<core::VehicleId> ofBay(const ui::BayRoom& bay) {
    if (!bay.isSheetOpen())
        return bay.jobs()->currentVehicle();
    const core::VehicleId id = bay.sheet()->past().vehicle.id;
    return bay.sheet()->isAskingForVehicle() || id.isNull() ? std::nullopt : std::optional(id);
}

} // namespace

std::optional<core::VehicleId> vehicleAtHand(const QWidget& room) {
    if (const auto* counter = qobject_cast<const ui::CounterRoom*>(&room))
        return ofCounter(*counter);
    if (const auto* bay = qobject_cast<const ui::BayRoom*>(&room))
        return ofBay(*bay);
    if (const auto* office = qobject_cast<const ui::OfficeRoom*>(&room))
        return office->currentVehicle();
    return std::nullopt;
}

} // namespace milehold::app
