// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quote/given_quote.h"
#include "core/result.h"
#include "core/shop/job.h"
#include "ui/office/owner_topics.h"

#include <span>
#include <vector>

namespace milehold::storage {
class Shop;
}

namespace milehold::app {

/// What a topic of the Office needs beyond the session.
struct OwnerRecords {
    std::vector<core::Job> comebackJobs; ///< at which vehicles came back
    std::vector<core::GivenQuote> quotes;
    std::vector<core::Job> claimJobs; ///< with a claim to a supplier
};

/// Reads it; on the database thread.
core::Result<OwnerRecords> readOwnerRecords(storage::Shop& shop, ui::OwnerTopic topic);

/// What every topic is worked out from.
struct OwnerGround {
    std::span<const core::LifeRecord> lives;
    core::FacetNames names;
    const core::ShopSettings& settings;
    core::DistanceUnit unit;
    core::Date today;
};

/// The page of a topic that is worked out from lives: not the curves, the evidence or the report. Pure; meant
/// for a worker thread.
ui::OwnerPageData ownerPage(ui::OwnerTopic topic, const OwnerGround& ground, const OwnerRecords& records);

} // namespace milehold::app
