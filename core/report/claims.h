// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"
#include "core/quantity/money.h"
#include "core/shop/job.h"

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace milehold::core {

/// How soon a claim that waits to be filed must be filed.
enum class ClaimUrgency : std::uint8_t { Past, Near, None };

/// A claim is near its deadline so many days before it. Source: common practice, no published source.
inline constexpr int kClaimNearDays = 30;

/// A claim to a supplier, on the job at which the vehicle came back.
struct ClaimRow {
    JobId job;
    VehicleId vehicle;
    std::int64_t jobNumber = 0;
    std::string vehicleLabel; ///< blank when the vehicle has no life
    ClaimState state = ClaimState::None;
    std::string number;
    std::optional<Date> deadline;
    std::optional<Money> claimed;
    Money credited;
    ClaimUrgency urgency = ClaimUrgency::None;
};

/// True for a claim that is not concluded: to be filed, or with the supplier.
bool isOpen(ClaimState state);

/// Only what waits to be filed is urgent: past its deadline, or at most kClaimNearDays before it.
ClaimUrgency urgencyOf(const Job& job, Date today);

/// The claims of these jobs (those without one and voided jobs are passed over), the most pressing first:
/// past the deadline, near it, to be filed, filed, concluded; each by deadline, then by job number. Vehicles
/// are named by `lives`.
std::vector<ClaimRow> claimsOf(std::span<const Job> jobs, std::span<const LifeRecord> lives, Date today);

/// How many of them are past their deadline or near it.
int claimsDue(std::span<const ClaimRow> claims);

} // namespace milehold::core
