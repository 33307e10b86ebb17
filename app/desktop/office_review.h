// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/office_lives.h"
#include "core/life/life_record.h"
#include "core/result.h"
#include "core/shop/people.h"
#include "core/shop/shelf.h"
#include "ui/office/office_view.h"

#include <span>

namespace milehold::app {

/// True when a life passes every filter of the query.
bool passes(const core::LifeRecord& record, const ui::OfficeQuery& query);

/// Everything that the Office shows for one query: a curve for each group of the lives that pass the filters.
///
/// Pure; meant for a worker thread.
/// Errors: InvalidInput for a facet that is not in the table. Too little data is no error: see
/// OfficeView::problem. Cost: O(n + h) plus the exact limits of each curve, the groups side by side on
/// threads of its own where there are many lives.
core::Result<ui::OfficeView> reviewLives(const OfficeLives& lives, const ui::OfficeQuery& query);
/// The same for lives that are asked about once.
core::Result<ui::OfficeView> reviewLives(std::span<const core::LifeRecord> lives, const core::Shelf& shelf,
                                         std::span<const core::Staff> staff, const ui::OfficeQuery& query);

} // namespace milehold::app
