// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/lives.h"
#include "core/survival/repeats.h"

#include <span>
#include <vector>

namespace milehold::core {

/// Reads lives as moments of histories, one Histories a group in the order of Lives::groupNames: the rows of
/// one vehicle in one group are one history, `miles` counts from its first repair, each comeback is one, and
/// the largest `miles` closes the watch, which begins at 0. `amount` is empty or has an entry for each row,
/// read where it came back. Input:  valid lives with a vehicle column.   Cost: O(n).
std::vector<Histories> historiesByGroup(const Lives& lives, std::span<const double> amount = {});

} // namespace milehold::core
