// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/logged_words.h"

#include "core/shop/names.h"
#include "ui/widgets/text.h"

#include <QCoreApplication>
#include <QJsonArray>
#include <QJsonDocument>
#include <QLocale>

#include <algorithm>
#include <array>
#include <optional>

namespace milehold::app {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(LoggedWords)
};

constexpr std::array<std::string_view, 11> kDistances = {
    "odometer_in", "odometer_out", "first_seen",     "warranty_distance", "odometer",   "noise_since",
    "shown",       "reset_offset", "default_yearly", "from_odometer",     "to_odometer"};
constexpr std::array<std::string_view, 15> kMoney = {
    "price",           "parts_price",       "labour_price",    "sublet",         "tax",
    "discount",        "comeback_cost",     "comeback_labour", "comeback_parts", "comeback_rental",
    "comeback_towing", "comeback_goodwill", "comeback_credit", "claim_amount",   "cost"};
constexpr std::array<std::string_view, 8> kYesNo = {
    "technician",         "advisor",           "owner", "active", "do_not_call", "anonymous",
    "quiet_visit_counts", "odometer_estimated"};

template <std::size_t N> bool isOneOf(std::string_view field, const std::array<std::string_view, N>& names) {
    return std::ranges::find(names, field) != names.end();
}

template <class Record, class Name>
std::optional<QString> nameIn(const std::vector<Record>& records, const core::Uuid& key, Name name) {
    for (const auto& record : records)
        if (record.id.uuid == key)
            return ui::toText(name(record));
    return std::nullopt;
}

/// The name that a person or something of the shelf bears.
std::optional<QString> nameOfKey(const core::Uuid& key, const LoggedWords& words) {
    const auto name = [](const auto& record) { return record.name; };
    const auto& shelf = *words.shelf;
    for (auto& found :
         {nameIn(words.staff, key, name), nameIn(shelf.paths, key, name), nameIn(shelf.families, key, name),
          nameIn(shelf.calibrations, key, [](const auto& one) { return one.code; }),
          nameIn(shelf.parts, key, [](const auto& part) { return core::partLabel(part); })})
        if (found)
            return found;
    return std::nullopt;
}

/// A cell of a list by its place in the entry, where more must be known than how it reads.
bool isPartCost(std::string_view list, qsizetype cell) {
    return list == "parts" && cell == 4;
}
/// A key that only tells entries apart says nothing to a person.
bool isEntryKey(std::string_view list, qsizetype cell) {
    return list == "applies" && cell == 0;
}

QString listWord(std::string_view field, const QJsonArray& list, const LoggedWords& words,
                 const OtherKeyWord& otherKey) {
    QStringList entries;
    for (const auto& entry : list) {
        const QJsonArray row = entry.isArray() ? entry.toArray() : QJsonArray{entry};
        QStringList cells;
        for (qsizetype i = 0; i < row.size(); ++i) {
            const std::string text = ui::toUtf8(row.at(i).toVariant().toString());
            if (!text.empty() && !isEntryKey(field, i))
                cells << loggedValueWord(isPartCost(field, i) ? "cost" : "", text, words, otherKey);
        }
        entries << cells.join(QStringLiteral(", "));
    }
    return entries.join(words.betweenEntries);
}

QString numberWord(std::string_view field, qint64 number, const LoggedWords& words) {
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
    return QString::number(number);
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

QString loggedValueWord(std::string_view field, const std::string& text, const LoggedWords& words,
                        const OtherKeyWord& otherKey) {
    if (const auto key = core::uuidFromString(text)) {
        auto name = nameOfKey(*key, words);
        return name ? *name : otherKey(field, *key);
    }
    if (text.starts_with('[')) {
        const auto list = QJsonDocument::fromJson(QByteArray::fromStdString(text));
        if (list.isArray())
            return listWord(field, list.array(), words, otherKey);
    }
    if (const auto date = core::dateFromIso(text))
        return ui::dateText(*date);
    const QString plain = ui::toText(text);
    bool isNumber = false;
    const qint64 number = plain.toLongLong(&isNumber);
    // A plate "0402" is no number: what is not written back as it was stays as it was.
    return isNumber && QString::number(number) == plain ? numberWord(field, number, words) : plain;
}

} // namespace milehold::app
