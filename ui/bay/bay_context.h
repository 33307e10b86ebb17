// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/quantity/distance.h"
#include "core/shop/people.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"

#include <memory>
#include <optional>
#include <vector>

namespace milehold::ui {

/// What every form of the Bay reads besides its own record.
struct BayContext {
    std::shared_ptr<const core::Shelf> shelf = std::make_shared<const core::Shelf>(); ///< never null
    std::vector<core::Staff> staff;
    core::ShopSettings settings;
    core::DistanceUnit unit = core::DistanceUnit::Miles;
    core::Date today{};
    std::optional<core::StaffId> who; ///< at this station
};

} // namespace milehold::ui
