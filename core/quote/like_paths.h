// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"
#include "core/result.h"

#include <cstdint>
#include <span>
#include <vector>

namespace milehold::core {

/// The work that decides how long a path lasts: the foremost kind of part that it fits.
enum class MainWork : std::uint8_t { CalibrationAlone, Valves, Phasers, Chains, Other };

/// Phasers before chains before valves; a path that fits none of them but loads a calibration is that alone.
MainWork mainWork(const RepairPath& path, const Shelf& shelf);

/// What a path's few repairs say together with those of like paths.
struct PooledFigure {
    double miles = 0;
    double survival = 1, lower = 1, upper = 1;
    double weightFromOthers = 0; ///< share of the figure that comes from the like paths
    int likePaths = 0;           ///< path and engine together make one
    double lives = 0;            ///< of the like paths, its own left out
    double comebacks = 0;        ///< of those
    std::vector<JobId> jobs;     ///< the like paths' jobs
};

/// Pools a path on an engine family with the paths of the same main work, each on each engine family by
/// itself, partially: lives of a common shape, rates spread as a gamma distribution.
///
/// Input:  all lives of the shop; `miles` in `unit`.
/// Errors: NotEstimable with the reason in words: no like path with a repair, fewer than five comebacks in
/// all, fewer than five watched at `miles` in all; those of pooledRates. Source: Morris 1983, JASA 78:47;
/// what counts as like is our own rule.
Result<PooledFigure> pooledWithLikePaths(std::span<const LifeRecord> lives, const RepairPath& path,
                                         EngineFamilyId family, const Shelf& shelf, DistanceUnit unit,
                                         double miles, double level);

} // namespace milehold::core
