// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/exchange/sheet.h"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

class Session;

/// What exchange needs of the records beyond the stores: every record in turn, and finding one by what a file
/// calls it.
class ExchangeStore {
public:
    explicit ExchangeStore(Session& session) : session_(session) {}

    core::Result<SheetContext> context() const;

    /// Each record once: customers and vehicles in the order in which they were first saved, jobs by number,
    /// follow-ups and typed readings by date.
    core::Result<void> eachCustomer(const std::function<void(const core::Customer&)>& take) const;
    core::Result<void> eachVehicle(const std::function<void(const VehicleLine&)>& take) const;
    core::Result<void> eachJob(const std::function<void(const JobLine&)>& take) const;
    core::Result<void> eachFollowUp(const std::function<void(const FollowUpLine&)>& take) const;
    core::Result<void> eachOdometer(const std::function<void(const OdometerLine&)>& take) const;

    /// Ids that a name stands for: none, one, or several that cannot be told apart. Names are compared whole.
    core::Result<std::vector<core::CustomerId>> customersNamed(std::string_view name,
                                                               std::string_view phone) const;
    core::Result<std::vector<core::VehicleId>> vehiclesNamed(const VehicleName& name) const;
    core::Result<std::vector<core::JobId>> jobsOf(core::VehicleId vehicle, core::Date writtenUp,
                                                  std::string_view repairOrder) const;
    core::Result<std::vector<core::OdometerId>> odometersOf(core::VehicleId vehicle, core::Date date,
                                                            core::Distance shown) const;
    core::Result<std::optional<core::OdometerReading>> odometer(core::OdometerId id) const;

    /// For the parts of this folder that read and write whole tables.
    Session& session() const { return session_; }

    /// Writes into the change log that records left the shop.
    core::Result<void> noteExport(std::string_view what, std::size_t rows, bool anonymous);

private:
    Session& session_;
};

} // namespace milehold::storage
