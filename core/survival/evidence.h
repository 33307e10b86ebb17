// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/counts.h"

#include <optional>
#include <vector>

namespace milehold::core {

/// How far lives are followed: the product limit of *leaving*, with comebacks as what cuts the watch short.
struct WatchCurve {
    std::vector<double> miles;     ///< every mileage where somebody leaves
    std::vector<double> following; ///< chance of still being followed just after it
    std::optional<double> median;  ///< miles by which half would have left; empty when not reached

    /// The chance just after any mileage.
    double at(double t) const;
};

/// Reverse product limit. At one mileage comebacks leave first, so that its factor is 1 - left/(n - d).
/// Errors: InvalidInput for no lives.   Cost: O(h).
/// Source: Schemper & Smith 1996, Control Clin Trials 17:343; the order at ties follows from convention, so
/// that the
///         product of both curves is the share watched.
Result<WatchCurve> watchCurve(const Counts& counts);

} // namespace milehold::core
