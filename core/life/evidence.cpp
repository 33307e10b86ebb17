// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/evidence.h"

#include "core/survival/evidence.h"

#include <algorithm>

namespace milehold::core {

namespace {

void countState(const Life& life, Evidence& evidence) {
    switch (life.state) {
    case LifeState::Holding:
        ++evidence.holding;
        break;
    case LifeState::CameBack:
        ++evidence.cameBack;
        break;
    case LifeState::NeverHeld:
        ++evidence.neverHeld;
        break;
    case LifeState::LostSight:
        ++evidence.lostSight;
        break;
    case LifeState::EndedOtherwise:
        ++evidence.endedOtherwise;
        break;
    }
    switch (life.lostReason) {
    case LostReason::None:
        break;
    case LostReason::Sold:
        ++evidence.sold;
        break;
    case LostReason::DoNotCall:
        ++evidence.doNotCall;
        break;
    case LostReason::NoContact:
        ++evidence.noContact;
        break;
    }
}

double& reasonOf(const Life& life, UnseenByReason& unseen) {
    if (life.cameBack() || life.state == LifeState::EndedOtherwise)
        return unseen.beforeEnd;
    switch (life.lostReason) {
    case LostReason::Sold:
        return unseen.sold;
    case LostReason::DoNotCall:
        return unseen.doNotCall;
    case LostReason::NoContact:
        return unseen.noContact;
    case LostReason::None:
        break;
    }
    return unseen.holding;
}

} // namespace

Result<Evidence> evidenceOf(std::span<const Life> lives, DistanceUnit unit, std::optional<Distance> horizon) {
    if (horizon && *horizon <= Distance())
        return fail(ErrorCode::InvalidInput, "the horizon is not positive");
    Evidence evidence;
    evidence.lives = lives.size();
    const auto within = [&](Distance from, Distance to) {
        if (horizon)
            to = std::min(to, *horizon);
        return std::max(to - from, Distance()).in(unit);
    };
    for (const Life& life : lives) {
        countState(life, evidence);
        if (life.contributes) {
            ++evidence.contributing;
            evidence.followed += life.isFollowed() ? 1 : 0;
            evidence.known += within(life.entry, life.known);
        }
        reasonOf(life, evidence.unseen) += within(life.known, life.known + life.unchecked());
    }
    const double all = evidence.known + evidence.unseen.all();
    if (all > 0)
        evidence.completeness = evidence.known / all;
    if (evidence.contributing > 0) {
        if (const auto watch = watchCurve(countsOfAll(toColumns(lives, unit).lives)))
            evidence.medianWatch = watch->median;
    }
    return evidence;
}

} // namespace milehold::core
