// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/evidence.h"
#include "core/life/life_sums.h"
#include "core/life/readings.h"
#include "core/quote/quote_point.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace milehold::core {

/// How much a curve or a quote can be trusted: what every one of them says beside its figure.
struct EvidenceFacts {
    DistanceUnit unit = DistanceUnit::Miles;
    Evidence evidence;
    double horizon = 0;                  ///< in the unit; where the readings and the claim stand
    ThreeReadings readings;              ///< at the horizon
    bool isFew = false;                  ///< too few are watched at the horizon for an estimate
    std::optional<double> claim;         ///< the round chance that is put to the test; empty: none is claimed
    std::optional<TippingPoint> tipping; ///< of that claim
};

/// Sums the evidence of some lives up. `at` is what is said at `horizon` (in `unit`) and decides about the
/// claim: the estimate, or where nothing came back yet its one-sided limit, rounded down to a whole tenth;
/// none where too few are watched. Errors: those of evidenceOf; no life is no error.
Result<EvidenceFacts> evidenceFacts(std::span<const Life> lives, DistanceUnit unit, double horizon,
                                    const QuotePoint& at);
/// The same of lives that are added up.
Result<EvidenceFacts> evidenceFacts(const LifeSums& sums, double horizon, const QuotePoint& at);

/// The facts in English, a sentence each, shortest list that leaves nothing out: followed (known, unseen),
/// lost sight of by reason, the three readings, the tipping share. Empty when there is nothing to follow.
std::vector<std::string> evidenceSentences(const EvidenceFacts& facts);

/// All of them in one line.
std::string evidenceLine(const EvidenceFacts& facts);

} // namespace milehold::core
