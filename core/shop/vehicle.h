// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/quantity/distance.h"
#include "core/shop/id.h"

#include <cstdint>
#include <optional>
#include <string>

namespace milehold::core {

struct Vehicle {
    VehicleId id;
    std::string vin;   ///< upper case, may be blank; unique when present
    std::string plate; ///< as written, may be blank
    std::string maker;
    std::string model;
    std::optional<int> modelYear;
    std::optional<EngineFamilyId> family;
    std::optional<CustomerId> customer;
    std::string note;
    std::int64_t revision = 0;
    friend bool operator==(const Vehicle&, const Vehicle&) = default;
};

enum class OdometerSource : std::uint8_t { Job, Call, Typed };

/// What the instrument showed on a day.
struct OdometerReading {
    OdometerId id;
    VehicleId vehicle;
    Date date;
    Distance shown; ///< >= 0
    OdometerSource source = OdometerSource::Typed;
    /// Set where the instrument was replaced: how far the vehicle had really run when the new one showed
    /// `shown`, less `shown`. Holds for this reading and all later ones, until the next replacement.
    std::optional<Distance> resetOffset;
    std::int64_t revision = 0;
    friend bool operator==(const OdometerReading&, const OdometerReading&) = default;
};

} // namespace milehold::core
