// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/lives.h"

#include <span>
#include <string>
#include <vector>

namespace milehold::core {

/// Limit of a share among n when the target is theta: (r - alpha) / n, r the smallest count with P(R <= r) >=
/// p and alpha the part of its probability that p leaves over, so that limits run smoothly between counts;
/// cut to [0, 1]. Input:  n >= 1; theta and p in (0, 1). Source: Spiegelhalter 2005, Stat Med 24:1185,
/// appendix A.1.1.
double binomialFunnelLimit(double n, double theta, double p);

/// The same for observed over expected comebacks: Poisson with mean `expected` > 0.
double poissonFunnelLimit(double expected, double p);

/// One person, supplier or lot: comebacks observed and expected, with limits of their ratio.
struct FunnelPoint {
    std::string name;
    double observed = 0;
    double expected = 0;
    double ratio = 0; ///< observed / expected
    double lower95 = 0, upper95 = 0;
    double lower998 = 0, upper998 = 0;
};

/// A funnel around ratio 1. Limits are stretched about 1 by sqrt(overDispersion) where the points differ more
/// than chance makes them. It is never a league table: points come in the order given.
struct Funnel {
    std::vector<FunnelPoint> points;
    double overDispersion =
        1; ///< mean square of the standardised ratios, winsorised; 1 unless larger than chance
};

/// What one point brings to a funnel.
struct FunnelEntry {
    std::string name;
    double observed = 0;
    double expected = 0; ///< points with 0 are left out
};

/// Exact Poisson limits at 95 % and 99.8 %. The over-dispersion step winsorises one in ten standardised
/// ratios at each end, so that the very points looked for do not widen the limits, and applies with at least
/// `fewestForDispersion`. Source: Spiegelhalter 2005, Stat Med 24:1185, section 4.
Funnel funnel(std::span<const FunnelEntry> tallies, std::size_t fewestForDispersion = 10);

/// Observed and expected comebacks of each group: expected from the hazard of all groups together
/// (Nelson-Aalen), accumulated over each life's own known miles. `stratified`: from the hazard of the life's
/// own stratum, so that who gets the harder repairs is not blamed for them. Input: valid lives; intervals are
/// read at `miles`. Observed and expected sum to the same over the groups, in each stratum too. Source:
/// Breslow 1975, Int Stat Rev 43:45 (indirect standardisation by the cumulative hazard).
std::vector<FunnelEntry> observedAndExpected(const Lives& lives, bool stratified = false);

} // namespace milehold::core
