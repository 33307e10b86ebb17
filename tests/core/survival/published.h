// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/observation.h"

#include <cmath>
#include <cstdint>
#include <limits>
#include <vector>

/// Published life tables that several tests use, typed from their sources. Facts, not files.
namespace milehold::core::published {

inline constexpr double kOpen = std::numeric_limits<double>::infinity();

struct Life {
    double miles = 0;
    int cameBack = 0;
    double count = 1;
};

/// Distances of 38 vehicle shock absorbers (km), 11 failures. O'Connor 1985, Practical Reliability
/// Engineering; Meeker & Escobar 1998, Statistical Methods for Reliability Data, table C.2.
inline const std::vector<Life> kShockAbsorber = {
    {6700, 1},  {6950, 0},  {7820, 0},  {8790, 0},  {9120, 1},  {9660, 0},  {9820, 0},  {11310, 0},
    {11690, 0}, {11850, 0}, {11880, 0}, {12140, 0}, {12200, 1}, {12870, 0}, {13150, 1}, {13330, 0},
    {13470, 0}, {14040, 0}, {14300, 1}, {17520, 1}, {17540, 0}, {17890, 0}, {18450, 0}, {18960, 0},
    {18980, 0}, {19410, 0}, {20100, 1}, {20100, 0}, {20150, 0}, {20320, 0}, {20900, 1}, {22700, 1},
    {23490, 0}, {26510, 1}, {27410, 0}, {27490, 1}, {27890, 0}, {28100, 0}};

/// Hours of 70 diesel-generator fans, 12 failures. Nelson 1982, Applied Life Data Analysis, p. 133.
inline const std::vector<Life> kGeneratorFan = {
    {450, 1, 1},   {460, 0, 1},  {1150, 1, 2}, {1560, 0, 1}, {1600, 1, 1}, {1660, 0, 1}, {1850, 0, 5},
    {2030, 0, 3},  {2070, 1, 2}, {2080, 1, 1}, {2200, 0, 1}, {3000, 0, 4}, {3100, 1, 1}, {3200, 0, 1},
    {3450, 1, 1},  {3750, 0, 2}, {4150, 0, 4}, {4300, 0, 4}, {4600, 1, 1}, {4850, 0, 4}, {5000, 0, 3},
    {6100, 0, 3},  {6100, 1, 1}, {6300, 0, 1}, {6450, 0, 2}, {6700, 0, 1}, {7450, 0, 1}, {7800, 0, 2},
    {8100, 0, 2},  {8200, 0, 1}, {8500, 0, 3}, {8750, 0, 2}, {8750, 1, 1}, {9400, 0, 1}, {9900, 0, 1},
    {10100, 0, 3}, {11500, 0, 1}};

/// Hours of 1703 bearing cages, 6 failures. Abernethy et al. 1983, AFWAL-TR-83-2079.
inline const std::vector<Life> kBearingCage = {
    {50, 0, 288},  {150, 0, 148},  {230, 1, 1},   {250, 0, 124}, {334, 1, 1},   {350, 0, 111}, {423, 1, 1},
    {450, 0, 106}, {550, 0, 99},   {650, 0, 110}, {750, 0, 114}, {850, 0, 119}, {950, 0, 127}, {990, 1, 1},
    {1009, 1, 1},  {1050, 0, 123}, {1150, 0, 93}, {1250, 0, 47}, {1350, 0, 41}, {1450, 0, 27}, {1510, 1, 1},
    {1550, 0, 11}, {1650, 0, 6},   {1850, 0, 1},  {2050, 0, 2}};

/// Distances of 31 vehicle components, 10 failures. Krivtsov & Case 1999, SAE 1999-01-3220.
inline const std::vector<Life> kVehicleComponent = {
    {5248, 1},  {7454, 1},   {16890, 1}, {17200, 1}, {38700, 1},  {45000, 1},  {49390, 1}, {69040, 1},
    {72280, 1}, {131900, 1}, {3961, 0},  {4007, 0},  {4734, 0},   {6054, 0},   {7298, 0},  {10190, 0},
    {23060, 0}, {27160, 0},  {28690, 0}, {37100, 0}, {40060, 0},  {45670, 0},  {53000, 0}, {67000, 0},
    {69630, 0}, {77350, 0},  {78470, 0}, {91680, 0}, {105700, 0}, {106300, 0}, {150400, 0}};

/// Cracks in heat-exchanger tubes found at yearly inspections of 3 plants of 100. Meeker & Escobar 1998,
/// example 1.5.
inline const std::vector<Observation> kHeatExchanger = {{0, 1, 0, 1},      {1, 2, 0, 2}, {2, 3, 0, 2},
                                                        {3, kOpen, 0, 95}, {0, 1, 0, 2}, {1, 2, 0, 3},
                                                        {2, kOpen, 0, 95}, {0, 1, 0, 1}, {1, kOpen, 0, 99}};

/// Turbine wheels inspected once each (100 h): {inspected at, inspected, found cracked}. Nelson 1982, p. 409.
struct Inspected {
    double at = 0, inspected = 0, cracked = 0;
};
inline const std::vector<Inspected> kTurbineWheel = {{4, 39, 0},   {10, 53, 4},  {14, 33, 2}, {18, 73, 7},
                                                     {22, 30, 5},  {26, 39, 9},  {30, 42, 9}, {34, 13, 6},
                                                     {38, 34, 22}, {42, 40, 21}, {46, 36, 21}};

inline std::vector<Observation> observations(const std::vector<Life>& table) {
    std::vector<Observation> rows;
    for (const Life& life : table)
        rows.push_back({life.miles, life.cameBack != 0 ? life.miles : kOpen, 0, life.count});
    return rows;
}

inline std::vector<Observation> observations(const std::vector<Inspected>& table) {
    std::vector<Observation> rows;
    for (const Inspected& row : table) {
        if (row.cracked > 0)
            rows.push_back({0, row.at, 0, row.cracked});
        if (row.inspected > row.cracked)
            rows.push_back({row.at, kOpen, 0, row.inspected - row.cracked});
    }
    return rows;
}

/// |got - want| relative to |want|.
inline double relative(double got, double want) {
    return std::abs(got - want) / std::abs(want);
}

} // namespace milehold::core::published
