// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/call_due.h"
#include "core/result.h"
#include "core/shop/people.h"
#include "core/shop/shelf.h"
#include "ui/counter/answers_dialog.h"
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

/// Voids an answer with a reason, or lets it count again with a blank one; on the database thread. Errors:
/// NotFound, Conflict when it was changed since.
core::Result<core::FollowUp> voidOrCount(storage::Shop& shop, core::FollowUpId call, std::int64_t revision,
                                         const std::string& reason);

/// The answers that were logged last, with who and what they are about; on the database thread.
core::Result<std::vector<ui::LoggedAnswer>>
readAnswers(storage::Shop& shop, const std::vector<core::Staff>& staff, std::size_t most);

/// The follow-up that an answer is stored as.
core::FollowUp followUpOf(const ui::CallAnswer& answer, core::Date today, std::optional<core::StaffId> by);

} // namespace milehold::app
