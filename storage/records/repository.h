// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/database/statement.h"
#include "storage/database/unit_of_work.h"
#include "storage/make_id.h"
#include "storage/records/record_sql.h"
#include "storage/records/record_table.h"

#include <functional>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

namespace milehold::storage {

/// Statements that do not differ between records, built once a type from its table.
template <class T> const RecordSql& recordSql() {
    static const RecordSql kSql = [] {
        const auto& table = recordTable<T>();
        std::vector<std::string_view> readable;
        std::vector<std::string_view> all;
        for (const auto& column : table.columns) {
            if (column.set != nullptr)
                readable.push_back(column.name);
            all.push_back(column.name);
        }
        RecordSql sql = makeRecordSql(table.name, readable, all);
        for (const auto& list : table.lists) {
            sql.lists.push_back(makeListSql(list.table, list.owner, list.columns, list.readColumns));
        }
        return sql;
    }();
    return kSql;
}

/// The record in the current row of a statement that selects recordSql<T>().select, without its lists.
template <class T> core::Result<T> readRow(const Statement& row) {
    const auto& table = recordTable<T>();
    T record;
    record.id.uuid = row.id(0);
    record.revision = row.integer(1);
    int index = 2;
    for (const auto& column : table.columns) {
        if (column.set == nullptr)
            continue;
        if (!column.set(record, row.value(index++)))
            return unknownValue(table.name, column.name);
    }
    return record;
}

/// The same with its lists.
template <class T> core::Result<T> readRecord(Session& session, const Statement& row) {
    const auto& table = recordTable<T>();
    auto record = readRow<T>(row);
    for (std::size_t i = 0; record && i < table.lists.size(); ++i) {
        const auto& list = table.lists[i];
        if (list.add == nullptr)
            continue;
        auto rows = readList(session, recordSql<T>().lists[i], record->id.uuid, list.readColumns);
        if (!rows)
            return core::failureOf(rows);
        for (const auto& one : *rows) {
            if (!list.add(*record, one))
                return unknownValue(list.table, list.columns[0]);
        }
    }
    return record;
}

/// Records by a condition (`WHERE ... ORDER BY ...`, a literal), bound by `bind`.
template <class T>
core::Result<std::vector<T>> readWhere(Session& session, std::string_view condition,
                                       const std::function<void(Statement&)>& bind = {}) {
    Statement select(session, recordSql<T>().select + " " + std::string(condition), recordSql<T>().reading);
    if (bind)
        bind(select);
    if (auto ran = select.run(); !ran)
        return core::failureOf(ran);
    std::vector<T> records;
    while (true) {
        const auto more = select.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            return records;
        auto record = readRecord<T>(session, select);
        if (!record)
            return core::failureOf(record);
        records.push_back(std::move(*record));
    }
}

/// Every record of a type in an order (`ORDER BY ...`, a literal): one query for the rows and one for each
/// list.
template <class T> core::Result<std::vector<T>> readAll(Session& session, std::string_view order) {
    const auto& sql = recordSql<T>();
    Statement select(session, sql.select + " " + std::string(order), sql.reading);
    if (auto ran = select.run(); !ran)
        return core::failureOf(ran);
    std::vector<T> records;
    std::unordered_map<core::Uuid, std::size_t, UuidHash> places;
    while (true) {
        const auto more = select.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            break;
        auto record = readRow<T>(select);
        if (!record)
            return core::failureOf(record);
        places.emplace(record->id.uuid, records.size());
        records.push_back(std::move(*record));
    }
    const auto& table = recordTable<T>();
    for (std::size_t i = 0; i < table.lists.size(); ++i) {
        const auto& list = table.lists[i];
        if (list.add == nullptr)
            continue;
        bool known = true;
        const auto read = eachOfList(
            session, sql.lists[i], list.readColumns, [&](const core::Uuid& owner, const auto& row) {
                const auto place = places.find(owner);
                known = known && place != places.end() && list.add(records[place->second], row);
            });
        if (!read)
            return core::failureOf(read);
        if (!known)
            return unknownValue(list.table, list.columns[0]);
    }
    return records;
}

/// Errors: NotFound.
template <class T> core::Result<T> findRecord(Session& session, const core::Uuid& id) {
    auto found =
        readWhere<T>(session, "WHERE id = :id", [&](Statement& select) { select.bindId(":id", id); });
    if (!found)
        return core::failureOf(found);
    if (found->empty()) {
        return core::fail(core::ErrorCode::NotFound,
                          "no " + std::string(recordTable<T>().name) + " with this id");
    }
    return std::move(found->front());
}

/// What differs between two versions of a record, a list as one field; `before` null: everything that is set.
template <class T> std::vector<LoggedField> differences(const T* before, const T* after) {
    const auto& table = recordTable<T>();
    std::vector<LoggedField> fields;
    const auto isBlank = [](const Value& value) {
        const auto* text = std::get_if<std::string>(&value);
        return storage::isNull(value) || (text != nullptr && text->empty());
    };
    const bool isWhole = before == nullptr || after == nullptr;
    const auto add = [&](std::string_view name, Value old, Value now, bool personal) {
        if (old == now || (isWhole && isBlank(old) && isBlank(now)))
            return;
        fields.push_back({std::string(name), std::move(old), std::move(now), personal});
    };
    for (const auto& column : table.columns) {
        if (column.set == nullptr)
            continue;
        add(column.name, before == nullptr ? Value() : column.get(*before),
            after == nullptr ? Value() : column.get(*after), column.personal);
    }
    for (const auto& list : table.lists) {
        if (list.add == nullptr)
            continue;
        add(list.field, before == nullptr ? Value() : listText(list.get(*before), list.readColumns),
            after == nullptr ? Value() : listText(list.get(*after), list.readColumns), list.personal);
    }
    return fields;
}

/// Inserts or replaces a record inside a unit of work: checks the revision, writes the row and its lists,
/// reads all back and compares, and writes the change log. A record without differences is returned as it is
/// stored. Errors: Conflict; Internal when what was read back differs; those of the database.
template <class T> core::Result<T> saveRecord(UnitOfWork& unit, Session& session, T record) {
    const auto& table = recordTable<T>();
    const auto& sql = recordSql<T>();
    T before;
    const bool isNew = record.revision == 0;
    if (isNew) {
        if (record.id.isNull())
            record.id.uuid = makeUuid();
    } else {
        auto stored = findRecord<T>(session, record.id.uuid);
        if (!stored && stored.error().code == core::ErrorCode::NotFound) {
            return core::fail(core::ErrorCode::Conflict,
                              std::string(table.name) + " was removed by somebody else");
        }
        if (!stored)
            return stored;
        before = std::move(*stored);
        if (before.revision != record.revision)
            return conflict(table.name);
        if (before == record)
            return record;
    }
    const std::int64_t expected = record.revision++;
    Statement write(session, isNew ? sql.insert : sql.update, sql.saving);
    write.bindId(":id", record.id.uuid).bindInt(":rev", record.revision);
    if (!isNew)
        write.bindInt(":expected", expected);
    for (std::size_t i = 0; i < table.columns.size(); ++i) {
        write.bind(sql.placeholders[i], table.columns[i].get(record));
    }
    if (auto ran = write.run(); !ran)
        return core::failureOf(ran);
    if (write.rowsChanged() != 1)
        return conflict(table.name);
    for (std::size_t i = 0; i < table.lists.size(); ++i) {
        const auto rows = table.lists[i].get(record);
        if (!isNew && table.lists[i].get(before) == rows)
            continue;
        if (auto written = writeList(session, sql.lists[i], record.id.uuid, rows, !isNew); !written) {
            return core::failureOf(written);
        }
    }
    auto stored = findRecord<T>(session, record.id.uuid);
    if (!stored)
        return stored;
    if (!(*stored == record))
        return core::fail(core::ErrorCode::Internal, sql.saving + ": reads back otherwise");
    const auto fields = differences<T>(isNew ? nullptr : &before, &record);
    if (auto logged =
            unit.log(isNew ? ChangeAction::Insert : ChangeAction::Update, table.name, record.id.uuid, fields);
        !logged) {
        return core::failureOf(logged);
    }
    return record;
}

/// Removes a record of this revision inside a unit of work and logs what it held.
template <class T>
core::Result<void> removeRecord(UnitOfWork& unit, Session& session, const core::Uuid& id,
                                std::int64_t revision) {
    const auto& table = recordTable<T>();
    auto stored = findRecord<T>(session, id);
    if (!stored)
        return core::failureOf(stored);
    if (stored->revision != revision)
        return conflict(table.name);
    Statement remove(session, recordSql<T>().remove, recordSql<T>().removing);
    remove.bindId(":id", id).bindInt(":expected", revision);
    if (auto ran = remove.run(); !ran)
        return ran;
    if (remove.rowsChanged() != 1)
        return conflict(table.name);
    return unit.log(ChangeAction::Delete, table.name, id, differences<T>(&*stored, nullptr));
}

/// `validate` said these; the detail names the fields that an error stands beside, never a value.
core::Result<void> refuseErrors(std::string_view table, const core::Findings& findings);

} // namespace milehold::storage
