// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/shelf.h"

#include <string>
#include <vector>

namespace milehold::core {

/// One sentence for each fact that a path rests on and that wants checking again: the path itself, its parts
/// at their newest revision, its newest calibration, and the notes on them.
std::vector<std::string> staleFacts(const RepairPath& path, const Shelf& shelf, Date today);

} // namespace milehold::core
