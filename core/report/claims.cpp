// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/report/claims.h"

#include <algorithm>
#include <tuple>
#include <unordered_map>

namespace milehold::core {

namespace {

const Date kNoDay{std::chrono::year{9999}, std::chrono::December, std::chrono::day{31}};

int placeOf(const ClaimRow& row) {
    switch (row.urgency) {
    case ClaimUrgency::Past:
        return 0;
    case ClaimUrgency::Near:
        return 1;
    case ClaimUrgency::None:
        break;
    }
    return row.state == ClaimState::ToFile ? 2 : row.state == ClaimState::Filed ? 3 : 4;
}

} // namespace

bool isOpen(ClaimState state) {
    return state == ClaimState::ToFile || state == ClaimState::Filed;
}

ClaimUrgency urgencyOf(const Job& job, Date today) {
    if (job.claimState != ClaimState::ToFile || !job.claimDeadline || !job.claimDeadline->ok())
        return ClaimUrgency::None;
    if (*job.claimDeadline < today)
        return ClaimUrgency::Past;
    return *job.claimDeadline <= addDays(today, kClaimNearDays) ? ClaimUrgency::Near : ClaimUrgency::None;
}

std::vector<ClaimRow> claimsOf(std::span<const Job> jobs, std::span<const LifeRecord> lives, Date today) {
    std::unordered_map<VehicleId, const std::string*> labels;
    for (const LifeRecord& record : lives)
        labels.emplace(record.life.vehicle, &record.vehicleLabel);
    std::vector<ClaimRow> claims;
    for (const Job& job : jobs) {
        if (job.isVoid() || job.claimState == ClaimState::None)
            continue;
        ClaimRow& row = claims.emplace_back();
        row.job = job.id;
        row.vehicle = job.vehicle;
        row.jobNumber = job.number;
        if (const auto label = labels.find(job.vehicle); label != labels.end())
            row.vehicleLabel = *label->second;
        row.state = job.claimState;
        row.number = job.claimNumber;
        row.deadline = job.claimDeadline;
        row.claimed = job.claimAmount;
        row.credited = job.comebackCosts.credit;
        row.urgency = urgencyOf(job, today);
    }
    std::stable_sort(claims.begin(), claims.end(), [](const ClaimRow& a, const ClaimRow& b) {
        return std::tuple(placeOf(a), a.deadline.value_or(kNoDay), a.jobNumber) <
               std::tuple(placeOf(b), b.deadline.value_or(kNoDay), b.jobNumber);
    });
    return claims;
}

int claimsDue(std::span<const ClaimRow> claims) {
    return static_cast<int>(std::count_if(
        claims.begin(), claims.end(), [](const ClaimRow& row) { return row.urgency != ClaimUrgency::None; }));
}

} // namespace milehold::core
