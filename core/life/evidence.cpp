// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/evidence.h"

#include <algorithm>
#include <vector>

namespace milehold::core {

namespace {

// The tolerance with which quantiles take a share for exactly one half, as survival quantiles do.
constexpr double kSameShare = 1.5e-8;

/// The share still watched after each step of the counts.
std::vector<double> reversedCurve(const Counts& counts) {
    std::vector<double> shares;
    shares.reserve(counts.size());
    const auto watched = counts.watched();
    double share = 1;
    for (std::size_t i = 0; i < counts.size(); ++i) {
        const double stay = watched[i] - counts.comebacks[i];
        if (counts.left[i] > 0 && stay > 0)
            share *= (stay - counts.left[i]) / stay;
        shares.push_back(share);
    }
    return shares;
}

std::optional<double> medianOf(const Counts& counts) {
    const auto shares = reversedCurve(counts);
    const auto at =
        std::find_if(shares.begin(), shares.end(), [](double s) { return s <= 0.5 + kSameShare; });
    if (at == shares.end())
        return std::nullopt;
    const auto i = static_cast<std::size_t>(at - shares.begin());
    if (*at < 0.5 - kSameShare)
        return counts.miles[i];
    // Exactly one half over a stretch: its middle.
    const auto next = std::find_if(at, shares.end(), [&](double s) { return s < *at; });
    const auto k = next == shares.end() ? counts.size() - 1 : static_cast<std::size_t>(next - shares.begin());
    return (counts.miles[i] + counts.miles[k]) / 2;
}

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

double stillWatched(const Counts& counts, double miles) {
    const auto shares = reversedCurve(counts);
    const auto after =
        std::upper_bound(counts.miles.begin(), counts.miles.end(), miles) - counts.miles.begin();
    return after == 0 ? 1.0 : shares[static_cast<std::size_t>(after) - 1];
}

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
            evidence.known += within(life.entry, life.known);
        }
        reasonOf(life, evidence.unseen) += within(life.known, life.known + life.unseen);
    }
    const double all = evidence.known + evidence.unseen.all();
    if (all > 0)
        evidence.completeness = evidence.known / all;
    if (evidence.contributing > 0)
        evidence.medianWatch = medianOf(countsOfAll(toColumns(lives, unit).lives));
    return evidence;
}

} // namespace milehold::core
