// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/conflict_rows.h"

#include "storage/shop.h"
#include "ui/widgets/number_text.h"
#include "ui/widgets/text.h"

#include <QCoreApplication>
#include <QDateTime>
#include <QJsonArray>
#include <QJsonDocument>
#include <QLocale>

#include <algorithm>
#include <optional>

namespace milehold::app {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(Words)
};

bool endsOn(std::string_view name, std::initializer_list<std::string_view> ends) {
    return std::ranges::any_of(ends, [&](auto end) { return name.ends_with(end); });
}

/// "odometer_out" as people read it.
QString fieldName(std::string name) {
    if (name.ends_with("_id"))
        name.resize(name.size() - 3);
    std::ranges::replace(name, '_', ' ');
    QString text = QString::fromStdString(name);
    if (!text.isEmpty())
        text[0] = text[0].toUpper();
    return text;
}

template <class Records>
const typename Records::value_type* named(const Records& records, const std::string& id) {
    const auto found =
        std::ranges::find_if(records, [&](const auto& one) { return core::toString(one.id.uuid) == id; });
    return found == records.end() ? nullptr : &*found;
}

/// The name of what a key stands for; the key itself says nothing to anybody.
QString nameOf(const std::string& id, const ConflictWords& words) {
    if (const auto* person = named(words.staff, id))
        return ui::toText(person->name);
    if (const auto* path = named(words.shelf.paths, id))
        return ui::toText(path->name);
    if (const auto* family = named(words.shelf.families, id))
        return ui::toText(family->name);
    if (const auto* part = named(words.shelf.parts, id))
        return ui::toText(part->number);
    if (const auto* calibration = named(words.shelf.calibrations, id))
        return ui::toText(calibration->code);
    return Words::tr("another record");
}

QString inWords(const std::string& name, const std::string& text, const ConflictWords& words);

QString listInWords(const QString& json, const ConflictWords& words) {
    QStringList entries;
    for (const QJsonValue& entry : QJsonDocument::fromJson(json.toUtf8()).array()) {
        QStringList cells;
        const QJsonArray row = entry.isArray() ? entry.toArray() : QJsonArray{entry};
        for (const QJsonValue& cell : row) {
            const QString text = cell.toVariant().toString();
            if (!text.isEmpty())
                cells.append(inWords({}, text.toStdString(), words));
        }
        entries.append(cells.join(QStringLiteral(" · ")));
    }
    return entries.join(QLatin1Char('\n'));
}

QString inWords(const std::string& name, const std::string& text, const ConflictWords& words) {
    const QString plain = ui::toText(text);
    const QLocale locale;
    if (core::uuidFromString(text))
        return nameOf(text, words);
    if (plain.startsWith(QLatin1Char('[')) && plain.endsWith(QLatin1Char(']')))
        return listInWords(plain, words);
    if (const auto date = core::dateFromIso(text))
        return locale.toString(QDate(static_cast<int>(date->year()),
                                     static_cast<int>(static_cast<unsigned>(date->month())),
                                     static_cast<int>(static_cast<unsigned>(date->day()))),
                               QLocale::ShortFormat);
    bool isNumber = false;
    const qlonglong number = plain.toLongLong(&isNumber);
    if (!isNumber)
        return plain;
    if (endsOn(name,
               {"odometer_in", "odometer_out", "first_seen", "distance", "yearly", "shown", "noise_since"})) {
        const bool miles = words.unit == core::DistanceUnit::Miles;
        const double shown = static_cast<double>(number) / (miles ? 1609.344 : 1000.0);
        return (miles ? Words::tr("%1 mi") : Words::tr("%1 km")).arg(locale.toString(shown, 'f', 0));
    }
    if (endsOn(name, {"price", "sublet", "tax", "discount", "cost", "hours"}) && !name.starts_with("soak"))
        return ui::writeNumber(number, 2, locale);
    if (endsOn(name, {"active", "technician", "advisor", "owner", "do_not_call", "counts"}))
        return number == 0 ? Words::tr("no") : Words::tr("yes");
    return plain;
}

} // namespace

QList<ui::ConflictRow> conflictRows(const storage::FieldTexts& mine, const storage::FieldTexts& theirs,
                                    const ConflictWords& words, const QString& of) {
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
        const QString field = fieldName(name);
        rows.append({of.isEmpty() ? field : Words::tr("%1: %2").arg(of, field.toLower()),
                     inWords(name, yours, words), inWords(name, others, words)});
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
