// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"
#include "core/quote/quote.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace milehold::ui {

/// A vehicle that the search found, as one line.
struct VehicleFound {
    core::VehicleId id;
    std::string vin;
    std::string plate;
    std::string maker;
    std::string model;
    std::optional<int> modelYear;
    std::string customer;
    std::optional<core::Date> lastJobOn;
    friend bool operator==(const VehicleFound&, const VehicleFound&) = default;
};

/// The vehicle at the counter, or one described by hand (then `vehicle` is empty).
struct CounterVehicle {
    std::optional<VehicleFound> vehicle;
    std::optional<core::EngineFamilyId> family;
    std::optional<int> modelYear;
    std::string calibration;
    core::YearlyDistance yearly;
    std::optional<core::Distance> lastOdometer;
    std::optional<core::Date> lastOdometerOn;
    std::optional<core::LifeRecord> running; ///< the newest repair here that still holds
    friend bool operator==(const CounterVehicle&, const CounterVehicle&) = default;
};

/// What the Counter asks to be quoted.
struct CounterQuery {
    core::QuoteSubject subject;
    std::optional<core::VehicleId> vehicle;
    std::int64_t horizon =
        0;                ///< in the shop's unit, what the sentence speaks of; 0: two years of this driver
    bool project = false; ///< go on by a model where too few are watched
};

/// What the fields of the Counter offer and how it words.
struct CounterChoices {
    std::vector<std::pair<core::EngineFamilyId, std::string>> families;
    std::vector<std::string> calibrations;
    core::Distance defaultYearly; ///< the shop's
    core::DistanceUnit unit = core::DistanceUnit::Miles;
    std::string currency = "USD";
    friend bool operator==(const CounterChoices&, const CounterChoices&) = default;
};

} // namespace milehold::ui
