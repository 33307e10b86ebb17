// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"
#include "core/shop/shelf.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

namespace milehold::sample {

/// The repair paths of the sample shop, in the order of the table below.
enum class PathKey : std::uint8_t {
    CalibrationAlone,
    ControlValves,
    OneBank,
    AllPhasers,
    PhasersAndChain,
    Screened,
    BothPhasers,
    SingleCamSet,
};
inline constexpr std::size_t kPathCount = 8;

/// How long a path really lasts, before the factors below: with the chance `neverHeld` it is at 0 miles, else
/// S(t) = exp(-(t / (scale * factors))^shape) with t and scale in miles.
struct PathLaw {
    PathKey key;
    std::string_view name;
    double neverHeld;
    double shape;
    double scale;
};

/// The known truth of the sample shop: the one table that README.md repeats in words.
inline constexpr std::array<PathLaw, kPathCount> kPathLaws = {{
    {PathKey::CalibrationAlone, "Calibration alone", 0.30, 0.8, 14'000},
    {PathKey::ControlValves, "Oil control valves", 0.12, 1.0, 48'000},
    {PathKey::OneBank, "One bank's phasers", 0.05, 1.3, 70'000},
    {PathKey::AllPhasers, "All phasers, newest revision", 0.02, 1.6, 150'000},
    {PathKey::PhasersAndChain, "Phasers with chain set", 0.01, 2.0, 210'000},
    {PathKey::Screened, "Screened phasers, all four", 0.00, 2.0, 260'000},
    {PathKey::BothPhasers, "Both phasers, inline four", 0.02, 1.5, 140'000},
    {PathKey::SingleCamSet, "Phasers and chains, single-cam eight", 0.02, 1.8, 170'000},
}};

/// A revision of a part that multiplies the scale of every path that fits it.
struct RevisionFactor {
    std::string_view number;
    std::string_view revision;
    double factor;
};
inline constexpr std::array<RevisionFactor, 15> kRevisionFactors = {{
    {"LP-4410", "A", 0.55},
    {"LP-4410", "B", 0.80},
    {"LP-4410", "C", 1.00}, // intake phaser
    {"LP-4420", "A", 0.55},
    {"LP-4420", "B", 0.80},
    {"LP-4420", "C", 1.00}, // exhaust phaser
    {"LP-4412", "A", 1.00},
    {"LP-4422", "A", 1.00}, // screened phasers
    {"NP-2206", "A", 0.70},
    {"NP-2206", "B", 1.00}, // inline four, intake
    {"SP-3308", "A", 0.75},
    {"SP-3308", "B", 1.00}, // single-cam eight
    {"VC-218", "A", 0.75},
    {"VC-218", "B", 1.00},
    {"NP-2216", "B", 1.00}, // valve; inline four, exhaust
}};

/// Lots that were made badly, by the week of the lot counted back from the end of the book.
struct BadLot {
    std::string_view number;
    std::string_view revision;
    int fromDaysBeforeEnd;
    int toDaysBeforeEnd;
    double factor;
};
inline constexpr std::array<BadLot, 2> kBadLots = {{
    {"LP-4410", "B", 1300, 1180, 0.45},
    {"VC-218", "B", 430, 320, 0.35},
}};

/// What the calibration left on the engine computer multiplies the scale by: first, second, third generation.
inline constexpr std::array<double, 3> kCalibrationFactors = {0.75, 0.90, 1.00};

/// What the oil found at the write-up multiplies the scale by.
inline constexpr double kOilClean = 1.00;
inline constexpr double kOilDark = 0.85;
inline constexpr double kOilSludge = 0.50;

/// Technicians, advisors, engine families and model years make no difference of their own.

/// What really happens to one repair, seen from above.
struct LifeTruth {
    core::JobId job;
    PathKey path = PathKey::CalibrationAlone;
    double neverHeld = 0;
    double shape = 1;
    double scale = 1;  ///< miles, all factors included
    double beyond = 0; ///< miles already run quietly when it came under the shop's eyes
    double miles = 0;  ///< its real life, whether or not anybody ever hears of the end
    friend bool operator==(const LifeTruth&, const LifeTruth&) = default;

    /// Chance of still being quiet at `t` miles, from the day of the repair on.
    double survival(double t) const;
};

/// What the estimates of a sample shop are compared with.
struct Truth {
    std::array<core::RepairPathId, kPathCount> paths{}; ///< by PathKey
    std::vector<LifeTruth> lives;                       ///< one for each delivered repair, void ones too

    /// Survival of a path, averaged over its repairs in the book: what a curve of that path estimates.
    double survival(PathKey path, double miles) const;
};

const PathLaw& lawOf(PathKey path);
/// 1 for a part that makes no difference.
double revisionFactor(std::string_view number, std::string_view revision);

} // namespace milehold::sample
