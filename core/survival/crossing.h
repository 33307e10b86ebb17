// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

namespace milehold::core {

/// Where a falling step function, 1 at 0, first is at or below 1 - p. Only the steps [begin, end) of `values`
/// exist. A value within 1.5e-8 of 1 - p is taken as exactly there: then the middle between that mileage and
/// the next one where the value changes; if it never does, the middle to `last`, or the mileage itself when
/// the steps end before the curve.
std::optional<double> crossing(const std::vector<double>& miles, const std::vector<double>& values,
                               std::size_t begin, std::size_t end, double p, double last);

} // namespace milehold::core
