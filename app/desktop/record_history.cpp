// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/record_history.h"

#include "storage/shop.h"
#include "storage/undo_store.h"
#include "ui/widgets/text.h"

#include <QCoreApplication>
#include <QDateTime>
#include <QLocale>

#include <optional>

namespace milehold::app {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(RecordHistory)
};

/// What a key outside staff and shelf stands for; the key itself where nothing is left that bears it.
core::Result<QString> recordWord(storage::Shop& shop, std::string_view field, const core::Uuid& key) {
    for (const auto& [column, table] :
         {std::pair<std::string_view, std::string_view>{"vehicle_id", "vehicle"},
          {"customer_id", "customer"},
          {"comeback_of", "job"},
          {"job_id", "job"},
          {"follow_up_id", "follow_up"}}) {
        if (column != field)
            continue;
        const auto label = storage::labelOf(shop, table, key);
        if (!label)
            return core::failureOf(label);
        if (!label->empty())
            return ui::toText(*label);
    }
    return ui::toText(core::toString(key));
}

core::Result<QString> sideWord(storage::Shop& shop, const storage::FieldChange& field,
                               const std::optional<std::string>& side, const LoggedWords& words) {
    if (field.withheld)
        return Words::tr("forgotten on request");
    if (!side)
        return QString();
    std::optional<core::Error> failed;
    const QString word =
        loggedValueWord(field.field, *side, words, [&](std::string_view name, const core::Uuid& key) {
            const auto found = recordWord(shop, name, key);
            if (!found)
                failed = found.error();
            return found ? *found : QString();
        });
    if (failed)
        return tl::unexpected(*failed);
    return word;
}

QString actionWord(storage::ChangeAction action, const QString& field) {
    switch (action) {
    case storage::ChangeAction::Insert:
        return Words::tr("New: %1").arg(field);
    case storage::ChangeAction::Delete:
        return Words::tr("Removed: %1").arg(field);
    case storage::ChangeAction::Export:
        return Words::tr("Exported: %1").arg(field);
    case storage::ChangeAction::Update:
        break;
    }
    return field;
}

} // namespace

QString personWord(const std::optional<core::StaffId>& staff, const std::vector<core::Staff>& people) {
    if (!staff)
        return Words::tr("nobody chosen");
    for (const auto& person : people)
        if (person.id == *staff)
            return ui::toText(person.name);
    return Words::tr("somebody no longer listed");
}

QString momentWord(core::Moment at) {
    const auto local = QDateTime::fromMSecsSinceEpoch(at.time_since_epoch().count());
    return QLocale().toString(local, QLocale::ShortFormat);
}

core::Result<QList<ui::HistoryRow>> readHistoryRows(storage::Shop& shop, std::string_view table,
                                                    const core::Uuid& row, const LoggedWords& words) {
    const auto changes = shop.changeLog().of(table, row);
    if (!changes)
        return core::failureOf(changes);
    QList<ui::HistoryRow> rows;
    for (const auto& change : *changes) {
        for (const auto& field : change.fields) {
            auto before = sideWord(shop, field, field.before, words);
            if (!before)
                return core::failureOf(before);
            auto after = sideWord(shop, field, field.after, words);
            if (!after)
                return core::failureOf(after);
            rows.append({momentWord(change.at), personWord(change.who.staff, words.staff),
                         ui::toText(change.who.station), actionWord(change.action, fieldWord(field.field)),
                         *before, *after});
        }
    }
    return rows;
}

} // namespace milehold::app
