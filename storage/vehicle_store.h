// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/result.h"
#include "core/shop/vehicle.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

class Session;

/// What the text of a search was found in.
enum class FoundIn : std::uint8_t { Vin, Plate, RepairOrder, CustomerName, Phone };

/// A vehicle as one row of a search.
struct VehicleHit {
    core::VehicleId id;
    std::string vin;
    std::string plate;
    std::string maker;
    std::string model;
    std::optional<int> modelYear;
    std::optional<core::CustomerId> customer;
    std::string customerName;            ///< blank without a customer
    std::string phone;                   ///< the customer's first
    std::int64_t lastJobNumber = 0;      ///< 0: no job yet
    std::optional<core::Date> lastJobOn; ///< delivered, or written up
    FoundIn foundIn = FoundIn::Vin;
    friend bool operator==(const VehicleHit&, const VehicleHit&) = default;
};

class VehicleStore {
public:
    explicit VehicleStore(Session& session) : session_(session) {}

    core::Result<core::Vehicle> find(core::VehicleId id) const;
    /// Empty when no vehicle bears this VIN (compared in upper case, blanks trimmed).
    core::Result<std::optional<core::Vehicle>> findByVin(std::string_view vin) const;
    /// Vehicles of which the VIN, its last eight characters, the plate, a repair order or job number, a word
    /// of the customer's name or the phone begins with the text. Blank text: the vehicles of the newest jobs.
    /// Each vehicle once, at most `limit`; every part is an indexed prefix query.
    core::Result<std::vector<VehicleHit>> search(std::string_view text, std::size_t limit) const;
    /// All that the shop knows of the vehicle: void jobs too, odometers in order of date.
    core::Result<core::VehicleHistory> history(core::VehicleId id) const;

    /// Inserts when `revision` is 0 (a null id is made), else replaces the stored row of that revision.
    /// Returns the row as stored. Errors: InvalidInput (also when the VIN is taken), Conflict, DiskProblem,
    /// OutcomeUnknown.
    core::Result<core::Vehicle> save(core::Vehicle vehicle);
    core::Result<core::OdometerReading> saveOdometer(core::OdometerReading reading);
    /// A typed reading only: what a job or a call brought is changed there.
    core::Result<void> removeOdometer(core::OdometerId id, std::int64_t revision);
    /// Errors: Conflict when the revision differs, InvalidInput when a job names this vehicle.
    core::Result<void> remove(core::VehicleId id, std::int64_t revision);

private:
    Session& session_;
};

} // namespace milehold::storage
