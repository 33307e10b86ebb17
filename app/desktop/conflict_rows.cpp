// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/conflict_rows.h"

#include "storage/shop.h"
#include "ui/widgets/text.h"

#include <QCoreApplication>
#include <QDateTime>
#include <QLocale>

#include <optional>

namespace milehold::app {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(Words)
};

/// Who the other record is, a conflict does not look up: that it is another one is what matters.
QString anotherRecord(std::string_view, const core::Uuid&) {
    return Words::tr("another record");
}

} // namespace

QList<ui::ConflictRow> conflictRows(const storage::FieldTexts& mine, const storage::FieldTexts& theirs,
                                    const LoggedWords& words, const QString& of) {
    storage::FieldTexts names = mine;
    names.insert(theirs.begin(), theirs.end());
    QList<ui::ConflictRow> rows;
    for (const auto& [name, any] : names) {
        const auto here = mine.find(name);
        const auto there = theirs.find(name);
        const std::string yours = here == mine.end() ? std::string() : here->second;
        const std::string others = there == theirs.end() ? std::string() : there->second;
        if (yours == others)
            continue;
        const QString field = fieldWord(name);
        rows.append({of.isEmpty() ? field : Words::tr("%1: %2").arg(of, field.toLower()),
                     loggedValueWord(name, yours, words, anotherRecord),
                     loggedValueWord(name, others, words, anotherRecord)});
    }
    return rows;
}

core::Result<LastChange> lastChange(storage::Shop& shop,
                                    const std::vector<std::pair<std::string, core::Uuid>>& records) {
    std::optional<storage::Change> newest;
    for (const auto& [table, row] : records) {
        const auto changes = shop.changeLog().of(table, row);
        if (!changes)
            return core::failureOf(changes);
        if (!changes->empty() && (!newest || changes->front().sequence > newest->sequence))
            newest = changes->front();
    }
    LastChange last;
    if (!newest)
        return last;
    last.at = newest->at;
    last.who = newest->who.station;
    if (newest->who.staff) {
        if (const auto person = shop.staff().find(*newest->who.staff))
            last.who = person->name;
    }
    return last;
}

QString changedBy(const LastChange& last) {
    const QString who = last.who.empty() ? Words::tr("somebody else") : ui::toText(last.who);
    const core::Moment at = last.at;
    const auto then = QDateTime::fromMSecsSinceEpoch(at.time_since_epoch().count());
    const QLocale locale;
    const QString when = then.date() == QDate::currentDate()
                             ? locale.toString(then.time(), QLocale::ShortFormat)
                             : locale.toString(then, QLocale::ShortFormat);
    return Words::tr("Changed by %1 at %2").arg(who, when);
}

} // namespace milehold::app
