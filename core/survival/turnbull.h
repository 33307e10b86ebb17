// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/observation.h"

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace milehold::core {

/// Probability known to lie in (from, to], but not where inside. An exact comeback has from == to; `to` is
/// infinite for what is left at the end of the watch.
struct MassInterval {
    double from = 0;
    double to = 0;
    double mass = 0;
    bool isExact() const { return from == to; }
    friend bool operator==(const MassInterval&, const MassInterval&) = default;
};

struct TurnbullOptions {
    double gap = 1e-6;       ///< of the Kuhn-Tucker conditions: the largest mean gradient less 1
    bool accelerated = true; ///< EM steps alternate with convex-minorant steps; otherwise plain EM
    bool polished =
        true; ///< Newton steps on the support afterwards: the gap alone leaves masses at 1e-3 to 1e-4
    int mostSteps = 100000;
};

/// The non-parametric maximum likelihood estimate from intervals.
struct Turnbull {
    std::vector<MassInterval> intervals; ///< innermost intervals, ascending; masses sum to 1, some may be 0
    double lives = 0, comebacks = 0;     ///< sums of weights
    double longestWatched = 0;           ///< largest lower end
    double logLikelihood = 0;
    double gap = 0;
    int steps = 0; ///< EM and convex-minorant steps taken
};

/// Masses on the innermost intervals: every lower end directly followed by an upper end, in the order exact
/// point < upper end < open lower end at one mileage, so that (8, 12] holds the exact point 12 and not the
/// exact point 8. Errors: InvalidInput for no rows; NotEstimable when a row enters late (the estimate then
/// need not exist);
///         NoConvergence when the gap is not reached.
/// Cost:   O(rows) a step, some tens of steps; the polish factors a sparse matrix of the support's size.
/// Source: Turnbull 1976, JRSS B 38:290; Wellner & Zhan 1997, JASA 92:945 (EMICM); Gentleman & Geyer 1994,
/// Biometrika
///         81:618 (Kuhn-Tucker conditions).
Result<Turnbull> turnbull(std::span<const Observation> rows, const TurnbullOptions& options = {});

/// Bounds of S at a mileage: equal outside the intervals, apart strictly inside one with mass.
struct SurvivalBounds {
    double least = 1, most = 1;
};
SurvivalBounds boundsAt(const Turnbull& estimate, double miles);

/// The interval in which the share p in (0, 1) has failed; empty when that is the unbounded one.
std::optional<MassInterval> quantileInterval(const Turnbull& estimate, double p);

struct Limits {
    double lower = 0, upper = 1;
};

/// Percentile limits of S at each mileage from `replicates` samples of as many lives, drawn with replacement
/// by a generator started at `seed`; the least S counts for the lower, the most for the upper limit. Errors:
/// as turnbull().   Source: Efron & Tibshirani 1993, An Introduction to the Bootstrap, ch. 13.
Result<std::vector<Limits>> bootstrapLimits(std::span<const Observation> rows, std::span<const double> miles,
                                            double level, int replicates, std::uint64_t seed);

} // namespace milehold::core
