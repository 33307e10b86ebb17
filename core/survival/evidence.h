// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/counts.h"

#include <optional>
#include <span>
#include <vector>

namespace milehold::core {

/// How far lives are followed: the product limit of *leaving*, with comebacks as what cuts the watch short.
struct WatchCurve {
    std::vector<double> miles;     ///< every mileage where somebody leaves
    std::vector<double> following; ///< chance of still being followed just after it
    std::optional<double> median;  ///< miles by which half would have left; empty when not reached
};

/// Reverse product limit. At one mileage comebacks leave first, so that its factor is 1 - left/(n - d).
/// Errors: InvalidInput for no lives.   Cost: O(h).
/// Source: Schemper & Smith 1996, Control Clin Trials 17:343; the order at ties follows from convention, so
/// that the
///         product of both curves is the share watched.
Result<WatchCurve> watchCurve(const Counts& counts);

/// How complete the follow-up is within a horizon.
struct Completeness {
    double known = 0;  ///< miles seen, each life to the horizon at most
    double unseen = 0; ///< miles that nobody has checked, each life to the horizon at most
    std::optional<double> share() const {
        return known + unseen > 0 ? std::optional(known / (known + unseen)) : std::nullopt;
    }
};

/// Input:  n lives each, finite and >= 0; a life that has ended has 0 unseen miles; horizon > 0.
/// Errors: InvalidInput when a rule is broken.
/// Source: Clark, Altman & De Stavola 2002, Lancet 359:1309.
Result<Completeness> completeness(std::span<const double> knownMiles, std::span<const double> unseenMiles,
                                  double horizon);

} // namespace milehold::core
