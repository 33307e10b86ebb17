// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/comeback.h"

#include <tuple>

namespace milehold::core {

bool isSameConcern(ConcernGroup repaired, ConcernGroup later) {
    if (later == ConcernGroup::None)
        return false;
    if (repaired != ConcernGroup::None)
        return repaired == later;
    return later == ConcernGroup::StartupRattle || later == ConcernGroup::TimingCode ||
           later == ConcernGroup::ChainNoise;
}

bool countsAsComeback(ComebackDecision decision) {
    switch (decision) {
    case ComebackDecision::SameConcern:
    case ComebackDecision::OtherPart:
    case ComebackDecision::Workmanship:
    case ComebackDecision::WrongDiagnosis:
        return true;
    case ComebackDecision::None:
    case ComebackDecision::NotReproduced:
    case ComebackDecision::Unrelated:
        return false;
    }
    return false;
}

std::optional<JobId> proposeComebackOf(const Job& job, const VehicleHistory& history) {
    const auto orderOf = [](const Job& j) { return std::tuple(*j.delivered, j.number, j.id); };
    const Job* latest = nullptr;
    for (const auto& earlier : history.jobs) {
        if (earlier.id == job.id || earlier.kind == JobKind::Visit || earlier.isVoid() ||
            !earlier.isDelivered() || *earlier.delivered > job.writtenUp ||
            !isSameConcern(earlier.concernGroup, job.concernGroup))
            continue;
        if (latest == nullptr || orderOf(earlier) > orderOf(*latest))
            latest = &earlier;
    }
    if (latest == nullptr)
        return std::nullopt;
    return latest->id;
}

} // namespace milehold::core
