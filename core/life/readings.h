// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life.h"
#include "core/result.h"
#include "core/survival/curve.h"

#include <optional>
#include <span>

namespace milehold::core {

/// The chance of still being quiet at one distance, by the three readings of unseen distance.
struct ThreeReadings {
    double miles = 0;
    std::optional<double> best; ///< empty beyond the last watched distance of that reading
    std::optional<double> known;
    std::optional<double> worst;
};

/// The worst reading of some lives: every unseen distance failed right away, and each comeback of an interval
/// stands where that gives less, right after its begin or where it was seen. (A comeback that is moved to
/// where more are watched lowers a product limit less further on.) With linear limits.
struct WorstCurves {
    Counts beginCounts, seenCounts;
    Curve begin, seen;

    /// The chance at one distance, never above that of the known reading; empty beyond the last watched one.
    std::optional<double> at(double miles) const;
};

/// Errors: InvalidInput when there is no life to read or the level is not in (0, 1).
Result<WorstCurves> worstCurves(std::span<const Life> lives, DistanceUnit unit, double level = 0.95);

/// The curves of some lives. Best >= known >= worst at every distance where they exist; the truth need not
/// lie between them (see Reading).
struct ReadingCurves {
    Counts bestCounts, knownCounts;
    Curve best, known; ///< with linear limits, as those that a customer sees come from the known curve alone
    WorstCurves worst;

    ThreeReadings at(double miles) const;
};

/// Product-limit curves with every unseen distance quiet, not counted, and failed right away.
/// Errors: InvalidInput when no life contributes or the level is not in (0, 1).
/// Source: Manski 1990, American Economic Review 80:319 (the idea); Kaplan & Meier 1958, JASA 53:457.
Result<ReadingCurves> readingCurves(std::span<const Life> lives, DistanceUnit unit, double level = 0.95);

/// How bad the unseen distance would have to be for a claim to fall.
struct TippingPoint {
    enum class Verdict : std::uint8_t {
        Falls,        ///< the claim falls when `share` of the unseen lives have failed right away
        HoldsAnyway,  ///< it holds even if all of them have
        FailsAnyway,  ///< it does not hold even if none of them has
        NothingUnseen ///< there is no unseen distance within the horizon; what is known decides
    } verdict = Verdict::NothingUnseen;
    std::optional<double> share; ///< in (0, 1], for Falls
    std::size_t unseenLives = 0; ///< lives with unseen distance before the horizon
    double best = 0;             ///< the chance if none of them has failed
    double worst = 0;            ///< the chance if all of them have
};

/// The smallest share of unseen lives that must have failed right after they were last known quiet, the
/// others having been quiet all along, for the chance of being quiet at `horizon` to fall below `claim`.
///
/// Each unseen life enters with weight `share` as a comeback and 1 - share as quiet; comebacks of an interval
/// stand where they were seen throughout. The chance falls with the share, which is found to 1e-9.
/// Errors: InvalidInput for a claim outside (0, 1), a horizon that is not positive, no life at all;
///         NotEstimable when nothing was or may have been watched at the horizon.
/// Source: our own, between the best and the worst case of Manski 1990.
Result<TippingPoint> tippingPoint(std::span<const Life> lives, DistanceUnit unit, double claim,
                                  Distance horizon);

} // namespace milehold::core
