// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/people.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"
#include "ui/records/history_dialog.h"

#include <memory>
#include <string_view>
#include <vector>

namespace milehold::storage {
class Shop;
struct Change;
} // namespace milehold::storage

namespace milehold::app {

/// What the words of a history are made with.
struct HistoryWords {
    std::shared_ptr<const core::Shelf> shelf;
    std::vector<core::Staff> staff;
    core::ShopSettings settings;
    core::DistanceUnit unit = core::DistanceUnit::Miles;
};

/// Everything that was done to one record, newest first, in words; on the database's thread.
core::Result<QList<ui::HistoryRow>> readHistoryRows(storage::Shop& shop, std::string_view table,
                                                    const core::Uuid& row, const HistoryWords& words);

/// `Odometer out` for `odometer_out`.
QString fieldWord(std::string_view column);
/// Who made a change: a name, or that nobody was chosen.
QString personWord(const std::optional<core::StaffId>& staff, const std::vector<core::Staff>& people);
/// A moment by the machine's clock and the locale.
QString momentWord(core::Moment at);

} // namespace milehold::app
