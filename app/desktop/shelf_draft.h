// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "ui/shelf/shelf_rows.h"

#include <string>
#include <string_view>

namespace milehold::app {

/// Under which name what is typed over a record of the shelf is kept; `shelf/part_number/0f6b4c7e-...`.
std::string shelfDraftForm(const ui::ShelfRecord& record);
bool isShelfDraft(std::string_view form);

/// As JSON; shelfDraftFromText() gives the same draft back.
std::string toText(const ui::ShelfDraft& draft);
/// Errors: Unreadable for text that is not such a draft.
core::Result<ui::ShelfDraft> shelfDraftFromText(std::string_view text);

/// What is stored now with the fields that `mine` changed since `base`: what somebody else changed beside
/// them stays. All three are of one kind. Errors: those of storage::recordFromText().
core::Result<ui::ShelfRecord> withMyEdits(const ui::ShelfRecord& base, const ui::ShelfRecord& mine,
                                          const ui::ShelfRecord& stored);

} // namespace milehold::app
