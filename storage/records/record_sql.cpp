// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/records/record_sql.h"

#include "storage/database/each_row.h"
#include "storage/database/json_text.h"
#include "storage/database/sql_name.h"
#include "storage/database/statement.h"
#include "storage/database/text.h"
#include "storage/records/repository.h"

#include <QJsonArray>
#include <QJsonDocument>

namespace milehold::storage {

namespace {

std::string joinedSql(const std::vector<std::string_view>& names) {
    std::string sql;
    for (const auto name : names) {
        if (!sql.empty())
            sql += ", ";
        sql += sqlName(name);
    }
    return sql;
}

} // namespace

RecordSql makeRecordSql(std::string_view table, const std::vector<std::string_view>& readable,
                        const std::vector<std::string_view>& all) {
    const std::string name(table);
    RecordSql sql;
    sql.reading = "read " + name;
    sql.saving = "save " + name;
    sql.removing = "remove " + name;
    const std::string tableSql = sqlName(table);
    sql.select = "SELECT id, rev, " + joinedSql(readable) + " FROM " + tableSql;
    std::string valuesSql;
    std::string changesSql;
    for (const auto column : all) {
        const std::string columnSql = sqlName(column);
        sql.placeholders.push_back(":" + columnSql);
        valuesSql += ", :" + columnSql;
        changesSql += ", " + columnSql + " = :" + columnSql;
    }
    sql.insert =
        "INSERT INTO " + tableSql + " (id, rev, " + joinedSql(all) + ") VALUES (:id, :rev" + valuesSql + ")";
    sql.update =
        "UPDATE " + tableSql + " SET rev = :rev" + changesSql + " WHERE id = :id AND rev = :expected";
    sql.remove = "DELETE FROM " + tableSql + " WHERE id = :id AND rev = :expected";
    return sql;
}

ListSql makeListSql(std::string_view table, std::string_view owner,
                    const std::vector<std::string_view>& columns, std::size_t readColumns) {
    const std::string tableSql = sqlName(table);
    const std::string ownerSql = sqlName(owner);
    ListSql sql;
    sql.what = "list " + tableSql;
    const std::vector<std::string_view> readable(columns.begin(),
                                                 columns.begin() + static_cast<std::ptrdiff_t>(readColumns));
    const std::string readSql = readable.empty() ? std::string("place") : joinedSql(readable);
    sql.select =
        "SELECT " + readSql + " FROM " + tableSql + " WHERE " + ownerSql + " = :owner ORDER BY place";
    sql.selectAll =
        "SELECT " + ownerSql + ", " + readSql + " FROM " + tableSql + " ORDER BY " + ownerSql + ", place";
    sql.remove = "DELETE FROM " + tableSql + " WHERE " + ownerSql + " = :owner";
    std::string valuesSql;
    for (const auto column : columns) {
        const std::string columnSql = sqlName(column);
        sql.placeholders.push_back(":" + columnSql);
        valuesSql += ", :" + columnSql;
    }
    sql.insert = "INSERT INTO " + tableSql + " (" + ownerSql + ", place, " + joinedSql(columns) +
                 ") VALUES (:list_owner, :list_place" + valuesSql + ")";
    return sql;
}

core::Result<std::vector<std::vector<Value>>> readList(Session& session, const ListSql& sql,
                                                       const core::Uuid& owner, std::size_t readColumns) {
    Statement select(session, sql.select, sql.what);
    select.bindId(":owner", owner);
    std::vector<std::vector<Value>> rows;
    const auto read = eachRow(select, [&] {
        auto& row = rows.emplace_back();
        for (std::size_t i = 0; i < readColumns; ++i)
            row.push_back(select.value(static_cast<int>(i)));
    });
    if (!read)
        return core::failureOf(read);
    return rows;
}

core::Result<void>
eachOfList(Session& session, const ListSql& sql, std::size_t readColumns,
           const std::function<void(const core::Uuid& owner, const std::vector<Value>& row)>& take) {
    Statement select(session, sql.selectAll, sql.what);
    std::vector<Value> row(readColumns);
    return eachRow(select, [&] {
        for (std::size_t i = 0; i < readColumns; ++i)
            row[i] = select.value(static_cast<int>(i) + 1);
        take(select.id(0), row);
    });
}

core::Result<void> writeList(Session& session, const ListSql& sql, const core::Uuid& owner,
                             const std::vector<std::vector<Value>>& rows, bool replace) {
    if (replace) {
        Statement remove(session, sql.remove, sql.what);
        remove.bindId(":owner", owner);
        if (auto ran = remove.run(); !ran)
            return ran;
    }
    if (rows.empty())
        return {};
    Statement insert(session, sql.insert, sql.what);
    for (std::size_t place = 0; place < rows.size(); ++place) {
        insert.again();
        insert.bindId(":list_owner", owner).bindInt(":list_place", static_cast<std::int64_t>(place));
        for (std::size_t i = 0; i < sql.placeholders.size(); ++i)
            insert.bind(sql.placeholders[i], rows[place][i]);
        if (auto ran = insert.run(); !ran)
            return ran;
    }
    return {};
}

Value listText(const std::vector<std::vector<Value>>& rows, std::size_t columns) {
    if (rows.empty())
        return {};
    std::string list = "[";
    for (const auto& row : rows) {
        if (list.size() > 1)
            list += ',';
        if (columns == 1) {
            appendJson(list, row[0]);
            continue;
        }
        for (std::size_t i = 0; i < columns; ++i) {
            list += i == 0 ? '[' : ',';
            appendJson(list, row[i]);
        }
        list += ']';
    }
    list += ']';
    return textValue(std::move(list));
}

std::optional<std::vector<std::vector<Value>>> listFromText(std::string_view text, std::size_t columns) {
    const auto document =
        QJsonDocument::fromJson(QByteArray(text.data(), static_cast<qsizetype>(text.size())));
    if (!document.isArray())
        return std::nullopt;
    const auto valueOf = [](const QJsonValue& value) {
        if (value.isDouble())
            return intValue(value.toInteger());
        return value.isString() ? textValue(value.toString().toStdString()) : Value();
    };
    std::vector<std::vector<Value>> rows;
    for (const QJsonValue& entry : document.array()) {
        auto& row = rows.emplace_back();
        if (columns == 1) {
            row.push_back(valueOf(entry));
            continue;
        }
        const QJsonArray cells = entry.toArray();
        if (cells.size() != static_cast<qsizetype>(columns))
            return std::nullopt;
        for (const QJsonValue& cell : cells)
            row.push_back(valueOf(cell));
    }
    return rows;
}

tl::unexpected<core::Error> conflict(std::string_view table) {
    return core::fail(core::ErrorCode::Conflict,
                      std::string(table) + " was changed by somebody else meanwhile");
}

tl::unexpected<core::Error> unknownValue(std::string_view table, std::string_view column) {
    return core::fail(core::ErrorCode::Unreadable, std::string(table) + "." + std::string(column) +
                                                       " holds a value that this program does not know");
}

core::Result<void> refuseErrors(std::string_view table, const core::Findings& findings) {
    std::string fields;
    for (const auto& finding : findings) {
        if (finding.severity != core::Severity::Error)
            continue;
        fields += (fields.empty() ? "" : ", ") + finding.field;
    }
    if (fields.empty())
        return {};
    return core::fail(core::ErrorCode::InvalidInput, std::string(table) + " breaks a rule in: " + fields);
}

} // namespace milehold::storage
