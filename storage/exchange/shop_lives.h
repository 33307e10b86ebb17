// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"
#include "core/result.h"
#include "core/shop/settings.h"
#include "storage/exchange/lives_table.h"
#include "storage/exchange/table_sink.h"

#include <iosfwd>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

class Shop;

/// How a shop's records become a lives table.
struct ShopLivesOptions {
    core::Date today;
    std::string by = "path";               ///< the facet that groups: see core::facets()
    std::string stratum = {};              ///< a facet, or blank for none
    std::vector<std::string> factors = {}; ///< facets to keep as text beside each life
    /// Of comebacks of which only an interval is known. Step curves want them where they were seen,
    /// estimators of intervals as intervals.
    core::Intervals intervals = core::Intervals::AtSeen;
    bool days = false; ///< of an export: columns `entered` and `days`, the calendar of early warning
};

/// The lives of a shop as the table that every command reads, in the shop's unit: what is known, nothing of
/// what is unseen; lives that contribute nothing are left out. A life whose facet says nothing is in group
/// `not recorded`. Errors: InvalidInput for a facet that is none, naming those that are; those of the stores.
core::Result<LivesTable> livesFromShop(Shop& shop, const ShopLivesOptions& options);

/// The same as a table, with every facet as a column of its own, for other programs and, as CSV, for `--csv`,
/// of which every command then says what it says of the shop. A comeback that nobody heard begin stands at
/// the mileage where it was seen, with the last quiet one in column `last_quiet`, whatever `intervals` says.
/// With `days`: `entered` counts days from the shop's first repair to this one's delivery, `days` from there
/// to its comeback or last quiet, so that dates cannot be told. Nobody can be told from it: vehicles are
/// numbered. Output: the number of lives.
core::Result<std::size_t> exportLives(Shop& shop, const ShopLivesOptions& options, TableSink& out);
core::Result<std::size_t> exportLives(Shop& shop, const ShopLivesOptions& options, std::ostream& out);

} // namespace milehold::storage
