// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/job.h"

#include <cstddef>
#include <vector>

namespace milehold::storage {

class Shop;

/// The answers that were logged last, voided ones too, newest first; at most `most`.
core::Result<std::vector<core::FollowUp>> recentCalls(Shop& shop, std::size_t most);

} // namespace milehold::storage
