// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/record_history.h"

#include "storage/shop.h"
#include "storage/undo_store.h"
#include "ui/widgets/text.h"

#include <QCoreApplication>
#include <QDateTime>
#include <QJsonArray>
#include <QJsonDocument>
#include <QLocale>

#include <algorithm>
#include <array>

namespace milehold::app {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(RecordHistory)
};

constexpr std::array<std::string_view, 11> kDistances = {
    "odometer_in", "odometer_out", "first_seen",     "warranty_distance", "odometer",   "noise_since",
    "shown",       "reset_offset", "default_yearly", "from_odometer",     "to_odometer"};
constexpr std::array<std::string_view, 14> kMoney = {
    "price",           "parts_price",       "labour_price",    "sublet",         "tax",
    "discount",        "comeback_cost",     "comeback_labour", "comeback_parts", "comeback_rental",
    "comeback_towing", "comeback_goodwill", "comeback_credit", "claim_amount"};
constexpr std::array<std::string_view, 8> kYesNo = {
    "technician",         "advisor",           "owner", "active", "do_not_call", "anonymous",
    "quiet_visit_counts", "odometer_estimated"};

template <std::size_t N> bool isOneOf(std::string_view field, const std::array<std::string_view, N>& names) {
    return std::ranges::find(names, field) != names.end();
}

template <class Record, class Name>
std::optional<QString> nameIn(const std::vector<Record>& records, const core::Uuid& id, Name name) {
    for (const auto& record : records)
        if (record.id.uuid == id)
            return ui::toText(name(record));
    return std::nullopt;
}

/// What a key stands for; the key itself where nothing is left that bears it.
core::Result<QString> nameOfKey(storage::Shop& shop, std::string_view field, const core::Uuid& id,
                                const HistoryWords& words) {
    const auto name = [](const auto& record) { return record.name; };
    const auto& shelf = *words.shelf;
    for (const auto& found :
         {nameIn(words.staff, id, name), nameIn(shelf.paths, id, name), nameIn(shelf.families, id, name),
          nameIn(shelf.calibrations, id, [](const auto& one) { return one.code; }),
          nameIn(shelf.parts, id, [](const auto& part) {
              return part.revisionLabel.empty() ? part.number : part.number + " " + part.revisionLabel;
          })})
        if (found)
            return *found;
    for (const auto& [column, table] :
         {std::pair<std::string_view, std::string_view>{"vehicle_id", "vehicle"},
          {"customer_id", "customer"},
          {"comeback_of", "job"},
          {"job_id", "job"},
          {"follow_up_id", "follow_up"}}) {
        if (column != field)
            continue;
        const auto label = storage::labelOf(shop, table, id);
        if (!label)
            return core::failureOf(label);
        if (!label->empty())
            return ui::toText(*label);
    }
    return ui::toText(core::toString(id));
}

core::Result<QString> valueWord(storage::Shop& shop, std::string_view field, const std::string& text,
                                const HistoryWords& words) {
    if (const auto id = core::uuidFromString(text))
        return nameOfKey(shop, field, *id, words);
    const QString plain = ui::toText(text);
    const auto list = QJsonDocument::fromJson(QByteArray::fromStdString(text));
    if (text.starts_with('[') && list.isArray()) {
        QStringList entries;
        for (const QJsonValue& entry : list.array()) {
            QStringList parts;
            for (const QJsonValue& part : entry.isArray() ? entry.toArray() : QJsonArray{entry}) {
                if (part.isNull() || part.toString(QStringLiteral("x")).isEmpty())
                    continue;
                const std::string value = part.toVariant().toString().toStdString();
                auto word = valueWord(shop, {}, value, words);
                if (!word)
                    return word;
                // A key that only tells entries apart says nothing to a person.
                if (!core::uuidFromString(value) || *word != ui::toText(value))
                    parts << *word;
            }
            entries << parts.join(QStringLiteral(", "));
        }
        return entries.join(QStringLiteral("; "));
    }
    if (const auto date = core::dateFromIso(text))
        return ui::dateText(*date);
    bool isNumber = false;
    const qint64 number = plain.toLongLong(&isNumber);
    if (!isNumber)
        return plain;
    if (isOneOf(field, kDistances))
        return ui::distanceText(core::Distance::fromMetres(number), words.unit);
    if (isOneOf(field, kMoney))
        return ui::moneyText({number}, ui::toText(words.settings.currency));
    if (isOneOf(field, kYesNo))
        return number != 0 ? Words::tr("yes") : Words::tr("no");
    if (field == "hours")
        return ui::hoursText({static_cast<std::int32_t>(number)});
    if (field.starts_with("rattle_tenths"))
        return Words::tr("%1 s").arg(QLocale().toString(static_cast<double>(number) / 10, 'f', 1));
    return plain;
}

core::Result<QString> sideWord(storage::Shop& shop, const storage::FieldChange& field,
                               const std::optional<std::string>& side, const HistoryWords& words) {
    if (field.withheld)
        return Words::tr("forgotten on request");
    if (!side)
        return QString();
    return valueWord(shop, field.field, *side, words);
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

QString fieldWord(std::string_view column) {
    QString word = QString::fromUtf8(column.data(), static_cast<qsizetype>(column.size()));
    if (word.endsWith(QStringLiteral("_id")))
        word.chop(3);
    if (word == QStringLiteral("vin"))
        return QStringLiteral("VIN");
    if (word == QStringLiteral("reverses"))
        return Words::tr("Takes back the save");
    word.replace(QChar(u'_'), QChar(u' '));
    if (!word.isEmpty())
        word[0] = word[0].toUpper();
    return word;
}

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
                                                    const core::Uuid& row, const HistoryWords& words) {
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
