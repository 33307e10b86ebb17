// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

namespace milehold::core {

/// exp of a logarithm of miles, empty where no double holds it.
std::optional<double> representable(double logMiles);

} // namespace milehold::core
