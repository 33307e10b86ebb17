// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/logged_words.h"
#include "core/quantity/date.h"
#include "core/result.h"
#include "storage/field_texts.h"
#include "ui/widgets/conflict_dialog.h"

#include <QList>
#include <QString>

#include <string>
#include <utility>
#include <vector>

namespace milehold::storage {
class Shop;
}

namespace milehold::app {

/// The fields in which two versions differ, in words, under `of` ("" for the record itself, "Vehicle").
QList<ui::ConflictRow> conflictRows(const storage::FieldTexts& mine, const storage::FieldTexts& theirs,
                                    const LoggedWords& words, const QString& of = {});

/// Who saved a record last, and when.
struct LastChange {
    std::string who; ///< a person's name, else the station's; blank when the log does not tell
    core::Moment at;
};

/// The newest change of any of these, by table and key, as the change log tells. On the database's thread.
core::Result<LastChange> lastChange(storage::Shop& shop,
                                    const std::vector<std::pair<std::string, core::Uuid>>& records);

/// "Changed by Mara at 10:42", in local time; with the date when it was not today.
QString changedBy(const LastChange& last);

} // namespace milehold::app
