// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/owner_topics.h"

#include "core/quote/quote_check.h"
#include "storage/claim_store.h"
#include "storage/quote_store.h"
#include "storage/shop.h"

#include <limits>

namespace milehold::app {

core::Result<OwnerRecords> readOwnerRecords(storage::Shop& shop, ui::OwnerTopic topic) {
    OwnerRecords records;
    if (topic == ui::OwnerTopic::Quotes) {
        auto quotes = storage::QuoteStore(shop).all();
        if (!quotes)
            return core::failureOf(quotes);
        records.quotes = std::move(*quotes);
        return records;
    }
    if (topic != ui::OwnerTopic::Comebacks && topic != ui::OwnerTopic::Warranty)
        return records;
    if (topic == ui::OwnerTopic::Comebacks) {
        auto claims = storage::ClaimStore(shop).all();
        if (!claims)
            return core::failureOf(claims);
        records.claimJobs = std::move(*claims);
    }
    storage::JobFilter filter;
    filter.limit = std::numeric_limits<std::int32_t>::max();
    const auto rows = shop.jobs().rows(filter);
    if (!rows)
        return core::failureOf(rows);
    for (const storage::JobRow& row : *rows) {
        if (row.voided || !row.comebackOf)
            continue;
        auto job = shop.jobs().find(row.id);
        if (!job)
            return core::failureOf(job);
        records.comebackJobs.push_back(std::move(*job));
    }
    return records;
}

ui::OwnerPageData ownerPage(ui::OwnerTopic topic, const OwnerGround& ground, const OwnerRecords& records) {
    const std::string& currency = ground.settings.currency;
    switch (topic) {
    case ui::OwnerTopic::Comebacks:
        return ui::comebacksPage(
            core::reviewComebacks(ground.lives, records.comebackJobs, ground.names, ground.today),
            core::claimsOf(records.claimJobs, ground.lives, ground.today), ground.today, currency);
    case ui::OwnerTopic::Warranty: {
        const auto costs =
            core::reviewComebacks(ground.lives, records.comebackJobs, ground.names, ground.today);
        return ui::warrantyPage(
            core::reviewWarranty(ground.lives, costs, ground.settings, ground.names, ground.unit),
            ground.unit, currency);
    }
    case ui::OwnerTopic::EarlyWarning:
        return ui::earlyWarningPage(core::reviewParts(ground.lives, ground.names.shelf, ground.today),
                                    core::reviewLots(ground.lives, ground.names.shelf, ground.today));
    case ui::OwnerTopic::People:
        return ui::peoplePage(core::reviewPeople(ground.lives, ground.names),
                              core::reviewSuppliers(ground.lives, ground.names));
    case ui::OwnerTopic::Factors:
        return ui::factorsPage(core::reviewFactors(ground.lives, ground.names, ground.unit));
    case ui::OwnerTopic::Quotes: {
        return ui::quotesPage(core::checkQuotes(records.quotes, ground.lives));
    }
    case ui::OwnerTopic::Curves:
    case ui::OwnerTopic::Evidence:
    case ui::OwnerTopic::Report:
        break;
    }
    return {};
}

} // namespace milehold::app
