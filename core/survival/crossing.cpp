// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/crossing.h"

namespace milehold::core {

std::optional<double> crossing(const std::vector<double>& miles, const std::vector<double>& values,
                               std::size_t begin, std::size_t end, double p, double last) {
    constexpr double kSame = 1.5e-8;
    const double target = 1 - p;
    std::size_t at = begin;
    while (at < end && values[at] > target + kSame)
        ++at;
    if (at >= end)
        return std::nullopt;
    if (values[at] < target - kSame)
        return miles[at];
    std::size_t change = at + 1;
    while (change < end && values[change] == values[at])
        ++change;
    if (change < end)
        return (miles[at] + miles[change]) / 2;
    return end == miles.size() ? (miles[at] + last) / 2 : miles[at];
}

} // namespace milehold::core
