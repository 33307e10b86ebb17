// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/shelf_saves.h"

#include "storage/shelf_store.h"
#include "storage/shop.h"
#include "storage/staff_store.h"

namespace milehold::app {
namespace {

using core::Result;
using ui::ShelfRecord;

template <class... Ways> struct Overloaded : Ways... { using Ways::operator()...; };

template <class Record> Result<ShelfRecord> asRecord(Result<Record> saved) {
    if (!saved)
        return core::failureOf(saved);
    return ShelfRecord(std::move(*saved));
}

Result<ShelfRecord> put(storage::Shop& shop, const ShelfRecord& record) {
    return std::visit(
        Overloaded{[&](const core::Staff& row) { return asRecord(shop.staff().save(row)); },
                   [&](const core::ShopSettings& row) { return asRecord(shop.saveSettings(row)); },
                   [&](const auto& row) { return asRecord(shop.shelf().save(row)); }},
        record);
}

Result<void> drop(storage::Shop& shop, const ShelfRecord& record) {
    return std::visit(
        Overloaded{[&](const core::Staff& row) { return shop.staff().remove(row.id, row.revision); },
                   [&](const core::ShopSettings&) -> Result<void> {
                       return core::fail(core::ErrorCode::InvalidInput, "settings cannot be removed");
                   },
                   [&](const auto& row) { return shop.shelf().remove(row.id, row.revision); }},
        record);
}

std::optional<ShelfRecord> findIn(const ShelfSnapshot& snapshot, const ShelfRecord& like) {
    const ui::ShelfContents contents{snapshot.shelf, snapshot.staff, snapshot.settings, {}};
    return ui::storedRecord(contents, ui::sectionOf(like), ui::idOf(like));
}

} // namespace

Result<ShelfSnapshot> readSnapshot(storage::Shop& shop) {
    auto shelf = shop.shelf().load();
    if (!shelf)
        return core::failureOf(shelf);
    auto staff = shop.staff().list();
    if (!staff)
        return core::failureOf(staff);
    auto settings = shop.settings();
    if (!settings)
        return core::failureOf(settings);
    return ShelfSnapshot{std::move(*shelf), std::move(*staff), std::move(*settings)};
}

Result<ShelfChange> putOnShelf(storage::Shop& shop, const ShelfRecord& record) {
    const auto then = readSnapshot(shop);
    if (!then)
        return core::failureOf(then);
    auto saved = put(shop, record);
    if (!saved)
        return core::failureOf(saved);
    auto now = readSnapshot(shop);
    if (!now)
        return core::failureOf(now);
    return ShelfChange{findIn(*then, record), std::move(*saved), std::move(*now)};
}

Result<ShelfChange> takeOffShelf(storage::Shop& shop, const ShelfRecord& record) {
    if (auto dropped = drop(shop, record); !dropped)
        return core::failureOf(dropped);
    auto now = readSnapshot(shop);
    if (!now)
        return core::failureOf(now);
    return ShelfChange{record, std::nullopt, std::move(*now)};
}

std::string tableOf(const ui::ShelfRecord& record) {
    switch (ui::sectionOf(record)) {
    case ui::ShelfSection::Engines:
        return "engine_family";
    case ui::ShelfSection::Paths:
        return "repair_path";
    case ui::ShelfSection::Parts:
        return "part_number";
    case ui::ShelfSection::Calibrations:
        return "calibration";
    case ui::ShelfSection::Notes:
        return "shelf_note";
    case ui::ShelfSection::People:
        return "staff";
    default:
        return "shop";
    }
}

} // namespace milehold::app
