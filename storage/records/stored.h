// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"
#include "core/shop/settings.h"
#include "core/shop/vehicle.h"

#include <optional>
#include <string>

namespace milehold::storage {

/// An odometer reading with the job or the call that brought it.
struct StoredOdometer {
    core::OdometerId id;
    core::VehicleId vehicle;
    core::Date date;
    core::Distance shown;
    core::OdometerSource source = core::OdometerSource::Typed;
    std::optional<core::Distance> resetOffset;
    std::optional<core::JobId> job;
    std::optional<core::FollowUpId> followUp;
    std::string moment; ///< of a job: `in` or `out`; else blank
    std::int64_t revision = 0;
    friend bool operator==(const StoredOdometer&, const StoredOdometer&) = default;

    core::OdometerReading reading() const {
        return {id, vehicle, date, shown, source, resetOffset, revision};
    }
};

/// The shop's own row under the one key that it has in every shop.
struct StoredSettings {
    core::Id<struct ShopTag> id = kId;
    core::ShopSettings settings;
    std::int64_t revision = 0;
    friend bool operator==(const StoredSettings&, const StoredSettings&) = default;

    static constexpr core::Id<struct ShopTag> kId{{{0, 0, 0, 0, 0, 0, 0x40, 0, 0x80, 0, 0, 0, 0, 0, 0, 1}}};
};

} // namespace milehold::storage
