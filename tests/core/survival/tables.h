// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/counts.h"
#include "tests/core/survival/published.h"

#include <string>
#include <vector>

/// Published tables as lives, and the tables of comparisons and repeats.
namespace milehold::core::published {

/// One group, or several side by side.
inline Lives livesOf(const std::vector<std::vector<Life>>& groups) {
    Lives lives;
    lives.groupNames.clear();
    for (std::size_t g = 0; g < groups.size(); ++g) {
        lives.groupNames.push_back(std::to_string(g + 1));
        for (const Life& life : groups[g]) {
            lives.miles.push_back(life.miles);
            lives.end.push_back(life.cameBack != 0 ? kCameBack : kHolding);
            lives.weight.push_back(life.count);
            lives.group.push_back(static_cast<std::uint32_t>(g));
        }
    }
    return lives;
}

inline Lives livesOf(const std::vector<Life>& rows) {
    return livesOf(std::vector<std::vector<Life>>{rows});
}

/// Weeks of remission, leukaemia, both arms of 21. Freireich et al. 1963, Blood 21:699; Gehan 1965,
/// Biometrika 52:203.
inline const std::vector<Life> kMercaptopurine = {{6, 1, 3}, {6, 0},  {7, 1},  {9, 0},     {10, 1}, {10, 0},
                                                  {11, 0},   {13, 1}, {16, 1}, {17, 0},    {19, 0}, {20, 0},
                                                  {22, 1},   {23, 1}, {25, 0}, {32, 0, 2}, {34, 0}, {35, 0}};
inline const std::vector<Life> kPlacebo = {{1, 1, 2},  {2, 1, 2},  {3, 1},  {4, 1, 2}, {5, 1, 2}, {8, 1, 4},
                                           {11, 1, 2}, {12, 1, 2}, {15, 1}, {17, 1},   {22, 1},   {23, 1}};

/// Weeks, acute myelogenous leukaemia, maintained and not. Miller 1981, Survival Analysis, Wiley, p. 49.
inline const std::vector<Life> kMaintained = {{9, 1},  {13, 1}, {13, 0}, {18, 1}, {23, 1}, {28, 0},
                                              {31, 1}, {34, 1}, {45, 0}, {48, 1}, {161, 0}};
inline const std::vector<Life> kNotMaintained = {{5, 1, 2}, {8, 1, 2}, {12, 1}, {16, 0}, {23, 1},
                                                 {27, 1},   {30, 1},   {33, 1}, {43, 1}, {45, 1}};

/// Days at which valve seats of 41 diesel engines were replaced: {end of watch, replacements}. Nelson &
/// Doganaksoy 1989, GE TIS 89CRD239; Nelson 1995, Technometrics 37:147.
struct Watched {
    double end = 0;
    std::vector<double> comebacks;
};
inline const std::vector<Watched> kValveSeats = {{761, {}},
                                                 {759, {}},
                                                 {667, {98}},
                                                 {667, {326, 653, 653}},
                                                 {665, {}},
                                                 {667, {84}},
                                                 {663, {87}},
                                                 {653, {646}},
                                                 {653, {92}},
                                                 {651, {}},
                                                 {650, {258, 328, 377, 621}},
                                                 {648, {61, 539}},
                                                 {644, {254, 276, 298, 640}},
                                                 {642, {76, 538}},
                                                 {641, {635}},
                                                 {649, {349, 404, 561}},
                                                 {631, {}},
                                                 {596, {}},
                                                 {614, {120, 479}},
                                                 {582, {323, 449}},
                                                 {589, {139, 139}},
                                                 {593, {}},
                                                 {589, {573}},
                                                 {606, {165, 408, 604}},
                                                 {594, {249}},
                                                 {613, {344, 497}},
                                                 {595, {265, 586}},
                                                 {389, {166, 206, 348}},
                                                 {601, {}},
                                                 {601, {410, 581}},
                                                 {611, {}},
                                                 {608, {}},
                                                 {587, {}},
                                                 {603, {367}},
                                                 {585, {202, 563, 570}},
                                                 {587, {}},
                                                 {578, {}},
                                                 {578, {}},
                                                 {586, {}},
                                                 {585, {}},
                                                 {582, {}}};

/// Days at which braking grids of locomotives were replaced, two batches. Doganaksoy & Nelson 1991, GE TIS
/// 91CRD172.
inline const std::vector<Watched> kBrakingGrids1 = {{687, {33}},
                                                    {724, {88}},
                                                    {730, {250}},
                                                    {719, {272, 421, 552, 625}},
                                                    {730, {302, 444, 500}},
                                                    {687, {287}},
                                                    {724, {364, 391, 548}},
                                                    {710, {367}},
                                                    {657, {317, 498}},
                                                    {700, {402}},
                                                    {710, {431}},
                                                    {730, {462}},
                                                    {710, {481}},
                                                    {724, {500}},
                                                    {708, {635, 650}}};
inline const std::vector<Watched> kBrakingGrids2 = {{464, {39}},
                                                    {447, {22}},
                                                    {419, {19, 185}},
                                                    {441, {54}},
                                                    {462, {91}},
                                                    {419, {61}},
                                                    {461, {119, 148, 306}},
                                                    {415, {93, 205, 264}},
                                                    {511, {203, 211, 277, 373}},
                                                    {470, {173}},
                                                    {448, {192}},
                                                    {432, {194}},
                                                    {416, {187}},
                                                    {464, {242}},
                                                    {503, {293}},
                                                    {434, {250}},
                                                    {448, {369}},
                                                    {460, {382}}};

} // namespace milehold::core::published
