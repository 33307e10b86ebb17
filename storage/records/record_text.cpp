// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/record_text.h"

#include "core/shop/people.h"
#include "core/shop/shelf.h"
#include "storage/database/text.h"
#include "storage/records/record_table.h"
#include "storage/records/stored.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

namespace milehold::storage {

namespace {

constexpr auto kId = "id";
constexpr auto kRevision = "rev";

QJsonValue toJson(const Value& value) {
    if (const auto* number = std::get_if<std::int64_t>(&value))
        return static_cast<qint64>(*number);
    if (const auto* text = std::get_if<std::string>(&value))
        return toQt(*text);
    return QJsonValue(QJsonValue::Null);
}

Value fromJson(const QJsonValue& value) {
    if (value.isDouble())
        return intValue(value.toInteger());
    return value.isString() ? textValue(value.toString().toStdString()) : Value();
}

QString nameOf(std::string_view column) {
    return QString::fromUtf8(column.data(), static_cast<qsizetype>(column.size()));
}

template <class T> QJsonObject objectOf(const T& record) {
    QJsonObject object;
    object.insert(QLatin1String(kId), toQt(core::toString(record.id.uuid)));
    object.insert(QLatin1String(kRevision), static_cast<qint64>(record.revision));
    for (const auto& column : recordTable<T>().columns)
        if (column.set != nullptr)
            object.insert(nameOf(column.name), toJson(column.get(record)));
    for (const auto& list : recordTable<T>().lists) {
        if (list.add == nullptr)
            continue;
        QJsonArray rows;
        for (const auto& row : list.get(record)) {
            QJsonArray cells;
            for (std::size_t i = 0; i < list.readColumns; ++i)
                cells.append(toJson(row[i]));
            rows.append(cells);
        }
        object.insert(nameOf(list.field), rows);
    }
    return object;
}

tl::unexpected<core::Error> unreadable(std::string_view what) {
    return core::fail(core::ErrorCode::Unreadable, "not the text of a record: " + std::string(what));
}

template <class T> bool addRows(T& record, const ListTable<T>& list, const QJsonArray& rows) {
    for (const QJsonValue& entry : rows) {
        std::vector<Value> row;
        for (const QJsonValue& cell : entry.toArray())
            row.push_back(fromJson(cell));
        if (row.size() != list.readColumns || !list.add(record, row))
            return false;
    }
    return true;
}

template <class T> core::Result<T> fromObject(const QJsonObject& object) {
    T record;
    const auto id = core::uuidFromString(object.value(QLatin1String(kId)).toString().toStdString());
    if (!id)
        return unreadable(kId);
    record.id.uuid = *id;
    record.revision = object.value(QLatin1String(kRevision)).toInteger();
    for (const auto& column : recordTable<T>().columns) {
        const auto found = object.constFind(nameOf(column.name));
        if (column.set == nullptr || found == object.constEnd())
            continue;
        if (!column.set(record, fromJson(*found)))
            return unreadable(column.name);
    }
    for (const auto& list : recordTable<T>().lists) {
        if (list.add != nullptr && !addRows(record, list, object.value(nameOf(list.field)).toArray()))
            return unreadable(list.field);
    }
    return record;
}

} // namespace

template <class Record> std::string recordText(const Record& record) {
    if constexpr (std::is_same_v<Record, core::ShopSettings>) {
        StoredSettings row;
        row.settings = record;
        row.revision = record.revision;
        return QJsonDocument(objectOf(row)).toJson(QJsonDocument::Compact).toStdString();
    } else {
        return QJsonDocument(objectOf(record)).toJson(QJsonDocument::Compact).toStdString();
    }
}

template <class Record> core::Result<Record> recordFromText(std::string_view text) {
    const auto document =
        QJsonDocument::fromJson(QByteArray(text.data(), static_cast<qsizetype>(text.size())));
    if (!document.isObject())
        return unreadable("no object");
    if constexpr (std::is_same_v<Record, core::ShopSettings>) {
        auto row = fromObject<StoredSettings>(document.object());
        if (!row)
            return core::failureOf(row);
        row->settings.revision = row->revision;
        return row->settings;
    } else {
        return fromObject<Record>(document.object());
    }
}

#define MILEHOLD_RECORD_TEXT(Record)                                                                         \
    template std::string recordText(const Record&);                                                          \
    template core::Result<Record> recordFromText<Record>(std::string_view);
MILEHOLD_RECORD_TEXT(core::EngineFamily)
MILEHOLD_RECORD_TEXT(core::RepairPath)
MILEHOLD_RECORD_TEXT(core::PartNumber)
MILEHOLD_RECORD_TEXT(core::Calibration)
MILEHOLD_RECORD_TEXT(core::ShelfNote)
MILEHOLD_RECORD_TEXT(core::Staff)
MILEHOLD_RECORD_TEXT(core::ShopSettings)
#undef MILEHOLD_RECORD_TEXT

} // namespace milehold::storage
