// SPDX-License-Identifier: GPL-3.0-or-later
// The columns of customers, vehicles and odometer readings.
#include "storage/exchange/sheet_parts.h"

namespace milehold::storage {

using core::Customer;
using core::OdometerReading;
using core::Vehicle;
using sheet::member;
using sheet::personalMember;
using sheet::requiredMember;

namespace {

std::string nameOf(const core::EngineFamily& family) {
    return family.name;
}

std::string writeFamily(const VehicleLine& line, const SheetContext& context) {
    return line.vehicle.family ? sheet::nameOrKey(context.shelf.families, line.vehicle.family->uuid, nameOf)
                               : std::string();
}

std::optional<std::string> readFamily(VehicleLine& line, std::string_view cell, const SheetContext& context) {
    const auto* family = sheet::byNameOrKey(context.shelf.families, cell, nameOf);
    if (family == nullptr)
        return "the name of one engine family on the shelf";
    line.vehicle.family = family->id;
    return std::nullopt;
}

} // namespace

template <> const std::vector<SheetColumn<Customer>>& sheetColumns() {
    static const auto kColumns = [] {
        std::vector<SheetColumn<Customer>> columns = {
            member<Customer, &Customer::id>("id"),
            requiredMember<Customer, &Customer::name>("name"),
            personalMember<Customer, &Customer::phones>("phones"),
            personalMember<Customer, &Customer::emails>("emails"),
            personalMember<Customer, &Customer::bestTime>("best_time"),
            member<Customer, &Customer::doNotCall>("do_not_call"),
            personalMember<Customer, &Customer::note>("note")};
        columns[1].personal = true;
        return columns;
    }();
    return kColumns;
}

template <> const std::vector<SheetColumn<VehicleLine>>& sheetColumns() {
    using Line = VehicleLine;
    static const std::vector<SheetColumn<Line>> kColumns = {
        member<Line, &Line::vehicle, &Vehicle::id>("id"),
        personalMember<Line, &Line::vehicle, &Vehicle::vin>("vin"),
        personalMember<Line, &Line::vehicle, &Vehicle::plate>("plate"),
        member<Line, &Line::vehicle, &Vehicle::maker>("maker"),
        member<Line, &Line::vehicle, &Vehicle::model>("model"),
        member<Line, &Line::vehicle, &Vehicle::modelYear>("model_year"),
        {"family", writeFamily, readFamily},
        personalMember<Line, &Line::vehicle, &Vehicle::customer>("customer_id"),
        personalMember<Line, &Line::customerName>("customer"),
        personalMember<Line, &Line::customerPhone>("customer_phone"),
        personalMember<Line, &Line::vehicle, &Vehicle::note>("note")};
    return kColumns;
}

template <> const std::vector<SheetColumn<OdometerLine>>& sheetColumns() {
    using Line = OdometerLine;
    static const std::vector<SheetColumn<Line>> kColumns = {
        member<Line, &Line::reading, &OdometerReading::id>("id"),
        member<Line, &Line::vehicle, &VehicleName::id>("vehicle_id"),
        personalMember<Line, &Line::vehicle, &VehicleName::vin>("vin"),
        personalMember<Line, &Line::vehicle, &VehicleName::plate>("plate"),
        requiredMember<Line, &Line::reading, &OdometerReading::date>("date"),
        requiredMember<Line, &Line::reading, &OdometerReading::shown>("odometer"),
        member<Line, &Line::reading, &OdometerReading::resetOffset>("reset_offset")};
    return kColumns;
}

} // namespace milehold::storage
