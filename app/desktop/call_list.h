// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/call_due.h"
#include "core/result.h"
#include "core/shop/shelf.h"
#include "ui/counter/call_values.h"

#include <optional>
#include <string>
#include <vector>

namespace milehold::storage {
class Shop;
}

namespace milehold::app {

/// The first `most` of the ranked calls with the people, phones and vehicles behind them; on the database
/// thread.
core::Result<std::vector<ui::CallToMake>> readCalls(storage::Shop& shop, const core::Shelf& shelf,
                                                    const std::vector<core::DueCall>& ranked,
                                                    std::size_t most, core::Date today);

/// Under which name what is typed about a call is kept until its answer is stored, and how.
std::string callDraftKey(core::JobId job);
std::string callDraftText(const ui::CallTyped& typed);
/// Empty for what is not of that form.
std::optional<ui::CallTyped> callDraftFromText(const std::string& text);

/// The follow-up that an answer is stored as.
core::FollowUp followUpOf(const ui::CallAnswer& answer, core::Date today, std::optional<core::StaffId> by);

} // namespace milehold::app
