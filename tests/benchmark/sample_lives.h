// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/lives.h"

#include <cmath>
#include <cstdint>
#include <random>
#include <string>

namespace milehold::benchmarks {

/// Invented lives in whole miles, unsorted: comebacks after Weibull(1.5, 120,000 mi), a watch that ends
/// anywhere up to 150,000 mi, other ends now and then. About a third come back. The same seed gives the same
/// lives.
inline core::Lives sampleLives(std::size_t n, std::uint32_t groups, std::uint64_t seed = 1) {
    std::mt19937_64 generator(seed);
    std::uniform_real_distribution<double> uniform;
    core::Lives lives;
    lives.groupNames.clear();
    for (std::uint32_t g = 0; g < groups; ++g)
        lives.groupNames.push_back(std::to_string(g + 1));
    lives.endNames = {"holding", "came-back", "scrapped", "repaired-elsewhere"};
    lives.miles.reserve(n);
    for (std::size_t i = 0; i < n; ++i) {
        const double comeback = 120000 * std::pow(-std::log(1 - uniform(generator)), 1 / 1.5);
        const double watch = 150000 * uniform(generator);
        const double kind = uniform(generator);
        lives.miles.push_back(std::floor(std::min(comeback, watch)));
        lives.end.push_back(comeback <= watch ? core::kCameBack
                            : kind < 0.1      ? core::EndCode{2}
                            : kind < 0.15     ? core::EndCode{3}
                                              : core::kHolding);
        lives.group.push_back(static_cast<std::uint32_t>(generator() % groups));
    }
    return lives;
}

} // namespace milehold::benchmarks
