// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/warranty_shop.h"

#include "core/quantity/money.h"
#include "core/shop/comeback.h"
#include "core/shop/labels.h"
#include "storage/exchange/exchange_store.h"

#include <cmath>
#include <map>
#include <unordered_map>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

/// What comebacks cost, by the job that did not hold, where somebody wrote it down.
using Costs = std::unordered_map<core::JobId, core::Money>;

Result<Costs> costsOfComebacks(storage::Shop& shop) {
    Costs costs;
    const auto read = shop.exchange().eachJob([&](const storage::JobLine& line) {
        const core::Job& job = line.job;
        if (!job.isVoid() && job.comebackOf && core::countsAsComeback(job.comebackDecision) &&
            job.hasComebackCost())
            costs[*job.comebackOf] = costs[*job.comebackOf] + job.comebackTotal();
    });
    if (!read)
        return core::failureOf(read);
    return costs;
}

WarrantyGroup groupOf(const std::string& name, const std::vector<std::size_t>& members,
                      const ShopRecords& records, const Costs& costs) {
    WarrantyGroup group{name, {}, {}, 0};
    std::vector<core::Life> lives;
    core::Money sum;
    for (const std::size_t i : members) {
        const core::Life& life = records.lives[i].life;
        lives.push_back(life);
        const auto cost = costs.find(life.job);
        if (!life.cameBack() || cost == costs.end())
            continue;
        sum = sum + cost->second;
        group.costs += 1;
    }
    const auto columns =
        core::toColumns(lives, records.settings.unit, core::Reading::Known, core::Intervals::Keep);
    if (columns.lives.size() > 0)
        group.lives = core::observationsByGroup(columns.lives).front();
    const double minor = std::pow(10.0, core::minorDigits(records.settings.currency));
    if (group.costs > 0)
        group.costEach = static_cast<double>(sum.minor) / group.costs / minor;
    return group;
}

} // namespace

Result<WarrantyBasis> warrantyOfShop(const ShopInput& input, const std::string& facet) {
    WarrantyBasis basis;
    const auto done = withShop(input, [&](storage::Shop& shop) -> Result<void> {
        const auto records = readShopRecords(shop, input);
        if (!records)
            return core::failureOf(records);
        const auto groups = groupsBy(*records, facet);
        if (!groups)
            return core::failureOf(groups);
        const auto costs = costsOfComebacks(shop);
        if (!costs)
            return core::failureOf(costs);
        basis.unit = core::shortName(records->settings.unit);
        basis.currency = records->settings.currency;
        for (const auto& [name, members] : *groups) {
            auto group = groupOf(name, members, *records, *costs);
            if (!group.lives.empty())
                basis.groups.push_back(std::move(group));
        }
        std::map<core::VehicleId, double> drivers;
        for (const core::LifeRecord& record : records->lives)
            drivers.insert_or_assign(record.life.vehicle,
                                     record.life.yearly.perYear.in(records->settings.unit));
        for (const auto& [vehicle, yearly] : drivers)
            basis.drivers.push_back(yearly);
        return {};
    });
    if (!done)
        return core::failureOf(done);
    if (basis.groups.empty())
        return core::fail(ErrorCode::NotEstimable, input.folder + ": the shop has no finished repair yet");
    return basis;
}

} // namespace milehold::cli
