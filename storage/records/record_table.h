// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "storage/records/codec.h"

#include <string_view>
#include <utility>
#include <vector>

namespace milehold::storage {

/// One column of a record's table: how its field is read, and written back.
template <class T> struct Column {
    std::string_view name;
    Value (*get)(const T& record) = nullptr;
    bool (*set)(T& record,
                const Value& value) = nullptr; ///< null: made from other fields for searching, never read
    bool personal = false;
};

/// A list in a record, kept in a table of its own with a row an entry: owner, place (from 0), columns.
template <class T> struct ListTable {
    std::string_view field; ///< its name in the change log
    std::string_view table;
    std::string_view owner; ///< the column that names the record
    std::vector<std::string_view> columns;
    std::size_t readColumns = 0; ///< the first so many are read back, the rest are made for searching
    std::vector<std::vector<Value>> (*get)(const T& record) = nullptr;
    bool (*add)(T& record,
                const std::vector<Value>& row) = nullptr; ///< null: the whole list is made for searching
    bool personal = false;
};

/// How a type of record is stored. `id` and `revision` belong to every record and are not listed.
template <class T> struct RecordTable {
    std::string_view name;
    std::vector<Column<T>> columns;
    std::vector<ListTable<T>> lists = {};
};

/// The table of each type; defined in tables_*.cpp. A new field is one line there.
template <class T> const RecordTable<T>& recordTable();

namespace detail {

template <class T, auto First, auto... Rest> auto& memberOf(T& record) {
    if constexpr (sizeof...(Rest) == 0) {
        return record.*First;
    } else {
        return memberOf<std::remove_reference_t<decltype(record.*First)>, Rest...>(record.*First);
    }
}

} // namespace detail

/// `column<Job, &Job::before, &ColdStart::soakHours>("soak_hours_before")`: a column that holds one member.
template <class T, auto... Path> Column<T> column(std::string_view name) {
    return {
        name, [](const T& record) { return encode(detail::memberOf<const T, Path...>(record)); },
        [](T& record, const Value& value) { return decode(value, detail::memberOf<T, Path...>(record)); }};
}

/// As column(), for a value that tells who a person is or what they said.
template <class T, auto... Path> Column<T> personalColumn(std::string_view name) {
    Column<T> made = column<T, Path...>(name);
    made.personal = true;
    return made;
}

/// A list of plain texts.
template <class T, auto Member>
ListTable<T> textList(std::string_view field, std::string_view table, std::string_view owner,
                      std::string_view columnName) {
    return {
        .field = field,
        .table = table,
        .owner = owner,
        .columns = {columnName},
        .readColumns = 1,
        .get =
            [](const T& record) {
                std::vector<std::vector<Value>> rows;
                for (const auto& text : record.*Member)
                    rows.push_back({textValue(text)});
                return rows;
            },
        .add = [](T& record,
                  const std::vector<Value>& row) { return decode(row[0], (record.*Member).emplace_back()); }};
}

} // namespace milehold::storage
