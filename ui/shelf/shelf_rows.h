// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/shelf_record.h"
#include "ui/widgets/engine_plan.h"
#include "ui/widgets/status.h"

#include <QStringList>
#include <QVariant>

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace milehold::ui {

/// What was typed over a record and not saved yet.
struct ShelfDraft {
    ShelfRecord base;  ///< what the typing started from; revision 0: it is a new one
    ShelfRecord typed; ///< with everything typed since that is a value
    /// Text that is no value yet ("12/" in a date field), by the field's object name.
    std::map<std::string, std::string> unfinished;
    friend bool operator==(const ShelfDraft&, const ShelfDraft&) = default;
};

/// By the record's id; the shop's own row under the null id.
using ShelfDrafts = std::map<core::Uuid, ShelfDraft>;

struct ShelfCell {
    QString text;
    QVariant sort; ///< invalid: sorted by its text
    std::optional<Status> status = {};
    std::optional<EngineBadge> badge = {};
    bool soft = false;
    QString tip = {};
};

/// A row of a drawer's list and what it opens.
struct ShelfRow {
    core::Uuid id;
    ShelfSection opens = ShelfSection::Paths;
    std::vector<ShelfCell> cells;
};

/// A drawer's list.
struct ShelfTable {
    QStringList headers;
    int stretched = 0;       ///< the column that takes the room that is left
    std::vector<int> widths; ///< of the others, 0 where it does not matter
    std::vector<ShelfRow> rows;
};

/// What a drawer lists: stored records with what was typed over them, new ones first.
ShelfTable shelfTable(ShelfSection section, const ShelfContents& contents, const ShelfDrafts& drafts);

/// How many records a drawer has; for WantsChecking how many want it.
int shelfCount(ShelfSection section, const ShelfContents& contents);

QString sectionName(ShelfSection section);
QString sectionIcon(ShelfSection section);
/// What an empty drawer says first.
QString sectionEmptyText(ShelfSection section);
/// What the button says that adds to it; blank where nothing can be added.
QString sectionAddText(ShelfSection section);

/// Current, superseded, wants checking ...
Status statusOf(const ShelfRecord& record, const ShelfContents& contents);

} // namespace milehold::ui
