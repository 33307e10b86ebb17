// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/shop_records.h"

#include "storage/exchange/exchange_store.h"
#include "storage/life_store.h"

#include <CLI/CLI.hpp>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

std::string facetList() {
    std::string all;
    for (const core::Facet& facet : core::facets())
        all += (all.empty() ? "" : ", ") + std::string(facet.id);
    return all;
}

} // namespace

Result<ShopRecords> readShopRecords(storage::Shop& shop, const ShopInput& input) {
    const auto today = dateOption("--today", input.today, localToday());
    if (!today)
        return core::failureOf(today);
    auto context = shop.exchange().context();
    if (!context)
        return core::failureOf(context);
    auto lives = shop.lives().records(*today);
    if (!lives)
        return core::failureOf(lives);
    return ShopRecords{*today, std::move(context->settings), std::move(context->shelf),
                       std::move(context->staff), std::move(*lives)};
}

Result<std::map<std::string, std::vector<std::size_t>>> groupsBy(const ShopRecords& records,
                                                                 const std::string& facet) {
    const core::Facet* const by = core::facetById(facet);
    if (by == nullptr)
        return core::fail(ErrorCode::InvalidInput,
                          "--by: '" + facet + "' is no facet; expected one of " + facetList());
    std::map<std::string, std::vector<std::size_t>> groups;
    for (std::size_t i = 0; i < records.lives.size(); ++i) {
        const std::string value = by->valueOf(records.lives[i], records.names());
        groups[value.empty() ? "not recorded" : value].push_back(i);
    }
    return groups;
}

void addByOption(CLI::App& command, std::string& by) {
    command.add_option("--by", by, "how a shop's lives are grouped: " + facetList())
        ->type_name("FACET")
        ->capture_default_str();
}

} // namespace milehold::cli
