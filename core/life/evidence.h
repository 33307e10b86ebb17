// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life.h"

#include <cstddef>
#include <optional>
#include <span>

namespace milehold::core {

/// Unseen distance by the reason why nobody has checked it.
struct UnseenByReason {
    double holding = 0; ///< not lost: a call may tell
    double sold = 0;
    double doNotCall = 0;
    double noContact = 0;
    double beforeEnd = 0; ///< before a comeback or a repair elsewhere: quiet for how much of it is not known
    double all() const { return holding + sold + doNotCall + noContact + beforeEnd; }
    friend bool operator==(const UnseenByReason&, const UnseenByReason&) = default;
};

/// How complete the follow-up of some lives is.
struct Evidence {
    std::size_t lives = 0;        ///< all that were given
    std::size_t contributing = 0; ///< of those, how many add to a curve: its rows
    std::size_t followed = 0;     ///< of those, the ones that were followed: the n of words
    std::size_t holding = 0, cameBack = 0, neverHeld = 0, lostSight = 0, endedOtherwise = 0; ///< by state
    std::size_t sold = 0, doNotCall = 0, noContact = 0; ///< of lostSight, by reason
    double known = 0;                                   ///< watched distance within the horizon, in the unit
    UnseenByReason unseen;                              ///< within the horizon, in the unit
    std::optional<double> completeness;                 ///< known / (known + unseen); empty when both are 0
    /// Distance for which half of the lives could be watched before they left; empty when it was not reached.
    std::optional<double> medianWatch;
};

/// Sums up follow-up within a horizon; an empty horizon means none.
///
/// Input:  any lives; a life is watched from its entry to its comeback or to where it was last known quiet,
/// and
///         could have been watched so much further as its unseen distance. A life that came
///         back has unseen distance from where it was last known quiet to where the comeback was seen, one
///         that was repaired elsewhere up to that repair.
/// Errors: InvalidInput for a horizon that is not positive.   Cost: O(n log n) for the median.
/// Source: Clark, Altman & De Stavola 2002, Lancet 359:1309 (completeness); Schemper & Smith 1996, Controlled
/// Clinical
///         Trials 17:343 (reversed product limit for the median watch).
Result<Evidence> evidenceOf(std::span<const Life> lives, DistanceUnit unit,
                            std::optional<Distance> horizon = std::nullopt);

} // namespace milehold::core
