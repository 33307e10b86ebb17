// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/shop_records.h"
#include "core/survival/observation.h"

#include <optional>
#include <string>
#include <vector>

namespace milehold::cli {

/// What the terms of a warranty are laid over: the lives of one group, and what its comebacks cost.
struct WarrantyGroup {
    std::string name;
    std::vector<core::Observation> lives;
    std::optional<double> costEach; ///< mean cost of a comeback; empty: nobody has said
    double costs = 0;               ///< comebacks whose cost that is the mean of
};

struct WarrantyBasis {
    std::vector<WarrantyGroup> groups;
    std::vector<double> drivers; ///< yearly distance of each, in the unit of the lives
    std::string unit;            ///< blank for a table
    std::string currency;        ///< blank for a table
};

/// From the records of a shop: one group a value of the facet, one driver a vehicle with his own yearly
/// distance (the shop's default where the records say nothing), the mean of the costs that the group's
/// comebacks have on record, in whole units of the currency. Errors: those of readShopRecords and groupsBy;
/// NotEstimable for a shop without finished repairs.
core::Result<WarrantyBasis> warrantyOfShop(const ShopInput& input, const std::string& facet);

} // namespace milehold::cli
