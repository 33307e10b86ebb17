// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/finding.h"
#include "core/shop/people.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"
#include "ui/words/names.h"

#include <QMetaType>
#include <QString>

#include <cstdint>
#include <optional>
#include <variant>
#include <vector>

namespace milehold::ui {

/// Any record that the Shelf room edits.
using ShelfRecord = std::variant<core::EngineFamily, core::RepairPath, core::PartNumber, core::Calibration,
                                 core::ShelfNote, core::Staff, core::ShopSettings>;

/// The drawers of the room, in the order of its index.
enum class ShelfSection : std::uint8_t {
    WantsChecking,
    Engines,
    Paths,
    Parts,
    Calibrations,
    Notes,
    People,
    Shop
};
inline constexpr int kShelfSections = 8;

/// All that the room shows.
struct ShelfContents {
    core::Shelf shelf;
    std::vector<core::Staff> staff;
    core::ShopSettings settings;
    core::Date today{};
};

/// Null for the settings.
core::Uuid idOf(const ShelfRecord& record);
void setId(ShelfRecord& record, const core::Uuid& id);
std::int64_t revisionOf(const ShelfRecord& record);
void setRevision(ShelfRecord& record, std::int64_t revision);
/// The drawer that keeps records of this kind.
ShelfSection sectionOf(const ShelfRecord& record);
/// What a person calls it: `LP-4410 C`, the path's name; blank for a new one.
QString nameOf(const ShelfRecord& record);
/// `part number`, `repair path`: the kind inside a sentence.
QString kindOf(const ShelfRecord& record);
/// Findings of core's own validation.
core::Findings check(const ShelfRecord& record, const ShelfContents& contents);
/// When it was checked and wants checking; null for what does not age.
core::Freshness* freshnessOf(ShelfRecord& record);
const core::Freshness* freshnessOf(const ShelfRecord& record);
/// The stored record of the same kind and id; null when there is none.
std::optional<ShelfRecord> storedRecord(const ShelfContents& contents, ShelfSection section,
                                        const core::Uuid& id);
/// A new record of a drawer.
ShelfRecord newRecord(ShelfSection section, const ShelfContents& contents);

/// What a note is about; blank when that is not on the shelf.
QString subjectName(const core::ShelfNote& note, const core::Shelf& shelf);
/// What stands over the record's form: its name, for a note what it is about, `New part number` without one.
QString titleOf(const ShelfRecord& record, const ShelfContents& contents);

} // namespace milehold::ui

Q_DECLARE_METATYPE(milehold::ui::ShelfRecord)
