// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "ui/shelf/shelf_record.h"

#include <optional>
#include <string>
#include <vector>

namespace milehold::storage {
class Shop;
}

namespace milehold::app {

/// The shelf, the people and the settings as stored now.
struct ShelfSnapshot {
    core::Shelf shelf;
    std::vector<core::Staff> staff;
    core::ShopSettings settings;
};
core::Result<ShelfSnapshot> readSnapshot(storage::Shop& shop);

/// What a save or a removal did to one record; empty before: it is new; empty after: it is gone.
struct ShelfChange {
    std::optional<ui::ShelfRecord> before;
    std::optional<ui::ShelfRecord> after;
    ShelfSnapshot now;
};

/// Saves through the store of the record's kind. Errors: those of the stores.
core::Result<ShelfChange> putOnShelf(storage::Shop& shop, const ui::ShelfRecord& record);
/// Removes it. Errors: those of the stores; InvalidInput for the shop's own settings.
core::Result<ShelfChange> takeOffShelf(storage::Shop& shop, const ui::ShelfRecord& record);

/// The table of the change log that holds a record's changes.
std::string tableOf(const ui::ShelfRecord& record);

} // namespace milehold::app
