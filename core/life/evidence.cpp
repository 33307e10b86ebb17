// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/evidence.h"

#include "core/life/evidence_sum.h"
#include "core/survival/evidence.h"

#include <algorithm>

namespace milehold::core {

namespace {

void countState(const LifeMark& life, Evidence& evidence) {
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

double& reasonOf(const LifeMark& life, UnseenByReason& unseen) {
    if (life.cameBack || life.state == LifeState::EndedOtherwise)
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

void EvidenceSum::add(const LifeMark& life) {
    const auto within = [this](Distance from, Distance to) {
        if (horizon_)
            to = std::min(to, *horizon_);
        return std::max(to - from, Distance()).in(unit_);
    };
    ++evidence_.lives;
    countState(life, evidence_);
    if (life.contributes) {
        ++evidence_.contributing;
        evidence_.followed += life.followed ? 1 : 0;
        evidence_.known += within(life.entry, life.known);
    }
    reasonOf(life, evidence_.unseen) += within(life.known, life.known + life.unchecked);
}

void EvidenceSum::add(const Evidence& others) {
    for (const auto count :
         {&Evidence::lives, &Evidence::contributing, &Evidence::followed, &Evidence::holding,
          &Evidence::cameBack, &Evidence::neverHeld, &Evidence::lostSight, &Evidence::endedOtherwise,
          &Evidence::sold, &Evidence::doNotCall, &Evidence::noContact})
        evidence_.*count += others.*count;
    evidence_.known += others.known;
    for (const auto reason : {&UnseenByReason::holding, &UnseenByReason::sold, &UnseenByReason::doNotCall,
                              &UnseenByReason::noContact, &UnseenByReason::beforeEnd})
        evidence_.unseen.*reason += others.unseen.*reason;
}

Evidence EvidenceSum::total(const Counts& known) const {
    Evidence evidence = evidence_;
    const double all = evidence.known + evidence.unseen.all();
    if (all > 0)
        evidence.completeness = evidence.known / all;
    if (evidence.contributing > 0) {
        if (const auto watch = watchCurve(known))
            evidence.medianWatch = watch->median;
    }
    return evidence;
}

Result<Evidence> evidenceOf(std::span<const Life> lives, DistanceUnit unit, std::optional<Distance> horizon) {
    if (horizon && *horizon <= Distance())
        return fail(ErrorCode::InvalidInput, "the horizon is not positive");
    EvidenceSum sum(unit, horizon);
    for (const Life& life : lives)
        sum.add(markOf(life));
    return sum.total(countsOfAll(toColumns(lives, unit).lives));
}

} // namespace milehold::core
