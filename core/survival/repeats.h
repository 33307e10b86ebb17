// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace milehold::core {

/// Histories of vehicles that can come back again and again, as columns. `vehicle` numbers them from 0.
///
/// A vehicle is watched over its windows (from, to], and at 0 when a window begins there; one window is the
/// ordinary case, more leave gaps in which nobody looked. Windows of a vehicle do not overlap. A comeback
/// lies in a window of its vehicle. `amount` is empty, which counts each comeback once, or holds what each
/// cost.
struct Histories {
    std::uint32_t vehicles = 0;
    struct Windows {
        std::vector<std::uint32_t> vehicle;
        std::vector<double> from, to;
    } windows;
    struct Comebacks {
        std::vector<std::uint32_t> vehicle;
        std::vector<double> miles;
        std::vector<double> amount;
    } comebacks;
};

/// Mean cumulative number (or cost) of comebacks a vehicle, as columns: one step at every mileage with a
/// comeback.
struct MeanCurve {
    double level = 0.95;
    std::uint32_t vehicles = 0;
    double longestWatched = 0;
    std::vector<double> miles, watched, mean, se, lower, upper;
};

/// Nelson's estimate, mean = sum of d/n with n the vehicles watched at the mileage, and a standard error that
/// leans on no Poisson process: the root of the sum over vehicles of (sum over the mileages watched of (d_i -
/// d/n)/n)^2. Limits mean exp(-+z se/mean).
///
/// Errors: InvalidInput for no vehicle, a broken window, a comeback outside every window of its vehicle, an
/// amount that
///         is negative or not finite.   Cost: O(m log m) for m windows and comebacks.
/// Source: Nelson 1988, J Qual Technol 20:24; Nelson 1995, Technometrics 37:147 (cost); Lawless & Nadeau
/// 1995,
///         Technometrics 37:158 (variance).
Result<MeanCurve> meanCurve(const Histories& histories, double level = 0.95);

/// Mean of the first group less that of the second at a mileage, with normal limits of independent groups.
struct MeanGap {
    double value = 0, se = 0, lower = 0, upper = 0;
};
/// Errors: NotEstimable beyond the longest watch of either.
Result<MeanGap> meanGap(const MeanCurve& first, const MeanCurve& second, double miles);

} // namespace milehold::core
