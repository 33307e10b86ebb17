// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/engine.h"
#include "core/shop/id.h"

#include <span>
#include <unordered_map>
#include <vector>

namespace milehold::storage {

class Shop;

/// The positions of the phasers that each of these jobs really fitted; a job without any is not among them.
/// One question for fifty jobs, served by the key of job_part.
core::Result<std::unordered_map<core::JobId, std::vector<core::Position>>>
fittedPhasers(Shop& shop, std::span<const core::JobId> jobs);

} // namespace milehold::storage
