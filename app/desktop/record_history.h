// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/logged_words.h"
#include "core/result.h"
#include "ui/records/history_dialog.h"

#include <string_view>
#include <vector>

namespace milehold::storage {
class Shop;
struct Change;
} // namespace milehold::storage

namespace milehold::app {

/// Everything that was done to one record, newest first, in words; on the database's thread.
core::Result<QList<ui::HistoryRow>> readHistoryRows(storage::Shop& shop, std::string_view table,
                                                    const core::Uuid& row, const LoggedWords& words);

/// Who made a change: a name, or that nobody was chosen.
QString personWord(const std::optional<core::StaffId>& staff, const std::vector<core::Staff>& people);
/// A moment by the machine's clock and the locale.
QString momentWord(core::Moment at);

} // namespace milehold::app
