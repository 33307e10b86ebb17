// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>

namespace milehold::core {

/// What a model says where watching does not reach; never shown without the word.
struct ProjectedChance {
    double chance = 1, lower = 1, upper = 1;
};

/// The chance of still being quiet at one distance.
struct QuotePoint {
    std::int64_t at = 0; ///< in the options' unit
    int years = 0;       ///< > 0 for a row by year
    double watched = 0;
    std::optional<double> chance; ///< empty when it may not be said
    std::optional<double> lower;
    std::optional<double> upper;
    /// Set where it was watched and nothing had come back by then: the one-sided lower limit, which is then
    /// all that is said. The same rule everywhere: no estimate before the first comeback.
    std::optional<double> atLeast;
    std::optional<double> worst;              ///< the worst reading of unseen distance
    bool few = false;                         ///< fewer than five watched there: limits only
    bool beyond = false;                      ///< past the last watched distance: nothing may be said
    std::optional<ProjectedChance> projected; ///< only when a projection was asked for, where few or beyond
};

} // namespace milehold::core
