// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/compare.h"
#include "core/survival/counts.h"

#include <optional>
#include <span>
#include <vector>

namespace milehold::core {

/// How often one end has happened by each mileage.
struct EndCurve {
    EndCode end = kCameBack;
    double count = 0;
    std::vector<double> incidence; ///< h entries
    std::vector<double> se;        ///< h entries
};

/// Cumulative incidence of several ends that compete, as columns of h steps: one at every mileage where any
/// of them, or a comeback, falls. The incidences add up to 1 - S.
struct EndCurves {
    double lives = 0;
    double longestWatched = 0;
    std::vector<double> miles;
    std::vector<double> survival; ///< of staying free of every end
    std::vector<EndCurve> ends;
};

struct EndPoint {
    double miles = 0;
    std::optional<double> incidence; ///< empty beyond the longest watch
    std::optional<double> se;
};

/// Aalen-Johansen estimate with its standard error by the delta method, multinomial at each mileage, so that
/// two ends at one mileage are taken jointly.
///
/// Input:  counts with ends split; the ends asked for, kCameBack among them or not. Other ends count all the
/// same. Errors: InvalidInput for no lives or counts without split ends.   Cost: O(h) an end. Source: Aalen &
/// Johansen 1978, Scand J Stat 5:141; Greenwood-type variance as in Andersen et al. 1993, IV.4.
Result<EndCurves> endCurves(const Counts& counts, std::span<const EndCode> ends);

/// Right-continuous, as the curve of survival.
EndPoint incidenceAt(const EndCurves& curves, const EndCurve& end, double miles);

/// Groups that Gray's test takes: its work grows with their third power.
inline constexpr std::size_t kMostGrayGroups = 100;

/// Whether the cumulative incidence of one end is the same in all groups.
///
/// Input:  counts of each group with ends split, whole numbers, no delayed entries.
/// Errors: NotEstimable for fewer than two groups or more than kMostGrayGroups, fractions, delayed entries,
/// or when nothing can vary. Cost:   O(h g^3). Source: Gray 1988, Ann Stat 16:1141, with rho = 0.
Result<ChiSquare> grayTest(std::span<const Counts> groups, EndCode end);

} // namespace milehold::core
