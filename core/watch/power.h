// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

namespace milehold::core {

/// A comparison to be planned: how far apart the paths are, and how sure one wants to be.
struct PlannedComparison {
    double hazardRatio = 2;  ///< > 0, not 1
    double level = 0.95;     ///< 1 - two-sided chance of a false alarm
    double power = 0.8;      ///< chance of seeing the difference
    double firstShare = 0.5; ///< share of the jobs on the first path, in (0, 1)
};

/// Comebacks needed to tell two paths apart by the log-rank test, in all.
struct ComebacksNeeded {
    double schoenfeld = 0; ///< z^2 / (share (1 - share) ln(ratio)^2)
    double freedman =
        0; ///< z^2 (1 + k ratio)^2 / (k (1 - ratio)^2), k the second path's jobs for one of the first
};

/// Errors: InvalidInput outside of the ranges above.
/// Source: Schoenfeld 1981, Biometrika 68:316; Freedman 1982, Stat Med 1:121.
Result<ComebacksNeeded> comebacksNeeded(const PlannedComparison& comparison);

/// Jobs needed for so many comebacks when a share `comebackShare` in (0, 1] of all jobs comes back within the
/// watch.
Result<double> jobsNeeded(double comebacks, double comebackShare);

/// Chance that the log-rank test sees the difference with so many comebacks (`power` is not read).
/// Source: Schoenfeld 1981.
Result<double> powerOf(double comebacks, const PlannedComparison& comparison);

} // namespace milehold::core
