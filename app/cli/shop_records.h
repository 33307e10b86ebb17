// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/cli/shop_input.h"
#include "core/life/life_record.h"
#include "core/shop/settings.h"

#include <map>
#include <string>
#include <vector>

namespace milehold::cli {

/// What a shop's lives are read with, as of one day.
struct ShopRecords {
    core::Date today;
    core::ShopSettings settings;
    core::Shelf shelf;
    std::vector<core::Staff> staff;
    std::vector<core::LifeRecord> lives;

    core::FacetNames names() const { return {shelf, staff}; }
};

/// Reads them all. Errors: InvalidInput for `--today`; those of the stores.
core::Result<ShopRecords> readShopRecords(storage::Shop& shop, const ShopInput& input);

/// Indices into `lives` by the value of a facet, in byte order; `not recorded` where the record is silent.
/// Errors: InvalidInput for a facet that is none, naming those that are.
core::Result<std::map<std::string, std::vector<std::size_t>>> groupsBy(const ShopRecords& records,
                                                                       const std::string& facet);

/// Adds `--by`, the facet that groups a shop's lives.
void addByOption(CLI::App& command, std::string& by);

} // namespace milehold::cli
