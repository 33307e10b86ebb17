// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/server/copy_table.h"

#include "storage/database/dialect.h"
#include "storage/database/each_row.h"
#include "storage/database/hash.h"
#include "storage/database/sql_name.h"
#include "storage/database/statement.h"

#include <algorithm>
#include <array>
#include <sstream>
#include <utility>

namespace milehold::storage {

namespace {

/// Tables that others name come first; one that is not listed here is copied at the end.
constexpr std::array<std::string_view, 30> kOrder = {"shop",
                                                     "counter",
                                                     "staff",
                                                     "customer",
                                                     "customer_phone",
                                                     "customer_email",
                                                     "customer_word",
                                                     "engine_family",
                                                     "engine_position",
                                                     "part_number",
                                                     "calibration",
                                                     "repair_path",
                                                     "path_line",
                                                     "path_part",
                                                     "path_applies",
                                                     "path_replace_once",
                                                     "path_caution",
                                                     "shelf_note",
                                                     "vehicle",
                                                     "odometer",
                                                     "job",
                                                     "job_line",
                                                     "job_part",
                                                     "job_code",
                                                     "follow_up",
                                                     "attachment",
                                                     "change_log",
                                                     "change_value",
                                                     "private_salt",
                                                     ""};

/// The bytes of attachments are carried by themselves: only a server keeps them in tables.
constexpr std::array<std::string_view, 5> kNotRecords = {"draft", "schema_migration", "audit_head",
                                                         "attachment_file", "attachment_block"};

constexpr std::array kToItself = {
    std::pair{std::string_view("part_number"), std::string_view("superseded_by")},
    std::pair{std::string_view("calibration"), std::string_view("supersedes")},
    std::pair{std::string_view("job"), std::string_view("comeback_of")}};

std::string_view toItself(std::string_view table) {
    for (const auto& [name, column] : kToItself)
        if (name == table)
            return column;
    return {};
}

std::string joinedSql(const std::vector<std::string>& names, std::string_view beforeSql) {
    std::string sql;
    for (const auto& name : names) {
        if (!sql.empty())
            sql += ", ";
        sql += beforeSql;
        sql += sqlName(name);
    }
    return sql;
}

core::Result<std::vector<std::string>> texts(Session& session, std::string_view sql) {
    Statement select(session, sql, "look at the tables");
    std::vector<std::string> found;
    const auto read = eachRow(select, [&] { found.push_back(select.text(0)); });
    if (!read)
        return core::failureOf(read);
    return found;
}

/// The order in which rows were saved, where the table keeps it; else its key.
std::string orderSql(Session& session, const TableShape& table) {
    if (table.name == "change_log")
        return " ORDER BY seq";
    if (table.name == "job")
        return " ORDER BY number";
    if (engineOf(session.database()) == Engine::Sqlite)
        return " ORDER BY rowid";
    constexpr std::array<std::string_view, 5> kWithOrder = {"customer", "vehicle", "shelf_note", "follow_up",
                                                            "odometer"};
    return std::ranges::find(kWithOrder, table.name) == kWithOrder.end() ? "" : " ORDER BY rowid";
}

std::string selectSql(const TableShape& table, std::string_view whichSql) {
    return "SELECT " + joinedSql(table.columns, "") + " FROM " + sqlName(table.name) +
           (whichSql.empty() ? "" : " WHERE " + std::string(whichSql));
}

std::string canonical(const Value& value) {
    if (const auto* number = std::get_if<std::int64_t>(&value)) {
        const std::string digits = std::to_string(*number);
        return "i" + std::to_string(digits.size()) + ":" + digits;
    }
    if (const auto* text = std::get_if<std::string>(&value))
        return "t" + std::to_string(text->size()) + ":" + *text;
    return "n";
}

/// Each row once, its values in the order of the columns.
template <class Take>
core::Result<std::int64_t> eachRow(Session& session, const std::string& sql, std::size_t columns, Take take) {
    Statement select(session, sql, "read a table");
    if (auto ran = select.run(); !ran)
        return core::failureOf(ran);
    std::vector<Value> row(columns);
    for (std::int64_t rows = 0;; ++rows) {
        const auto more = select.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            return rows;
        for (std::size_t i = 0; i < columns; ++i)
            row[i] = select.value(static_cast<int>(i));
        if (auto taken = take(row); !taken)
            return core::failureOf(taken);
    }
}

} // namespace

core::Result<std::vector<TableShape>> recordTables(Session& session) {
    const Engine engine = engineOf(session.database());
    const auto names = texts(session, dialect::tableNames(engine));
    if (!names)
        return core::failureOf(names);
    std::vector<TableShape> tables;
    std::istringstream list(names->empty() ? std::string() : names->front());
    for (std::string name; list >> name;) {
        if (std::ranges::find(kNotRecords, name) != kNotRecords.end())
            continue;
        auto columns = texts(session, dialect::columnNames(engine, name));
        if (!columns)
            return core::failureOf(columns);
        std::ranges::sort(*columns);
        tables.push_back({std::move(name), std::move(*columns)});
    }
    std::ranges::stable_sort(tables, {}, [](const TableShape& table) {
        return std::ranges::find(kOrder, std::string_view(table.name)) - kOrder.begin();
    });
    return tables;
}

core::Result<std::int64_t> copyTable(Session& from, Session& to, const TableShape& table,
                                     std::string_view which) {
    const std::string_view self = toItself(table.name);
    Statement insert(to,
                     "INSERT INTO " + sqlName(table.name) + " (" + joinedSql(table.columns, "") +
                         ") VALUES (" + joinedSql(table.columns, ":c_") + ")",
                     "copy into " + table.name);
    std::vector<std::pair<Value, Value>> later; // key, named row
    const auto key = std::ranges::find(table.columns, "id") - table.columns.begin();
    auto copied = eachRow(from, selectSql(table, which) + orderSql(from, table), table.columns.size(),
                          [&](const std::vector<Value>& row) {
                              insert.again();
                              for (std::size_t i = 0; i < row.size(); ++i) {
                                  const bool put = table.columns[i] != self || isNull(row[i]);
                                  insert.bind(":c_" + table.columns[i], put ? row[i] : Value());
                                  if (!put)
                                      later.emplace_back(row[static_cast<std::size_t>(key)], row[i]);
                              }
                              return insert.run();
                          });
    if (!copied || later.empty())
        return copied;
    Statement name(to, "UPDATE " + sqlName(table.name) + " SET " + sqlName(self) + " = :named WHERE id = :id",
                   "copy into " + table.name);
    for (const auto& [id, named] : later) {
        name.again();
        name.bind(":named", named).bind(":id", id);
        if (auto ran = name.run(); !ran)
            return core::failureOf(ran);
    }
    return copied;
}

core::Result<std::int64_t>
eachRowOf(Session& session, const TableShape& table,
          const std::function<core::Result<void>(const std::vector<Value>&)>& take) {
    return eachRow(session, selectSql(table, "") + orderSql(session, table), table.columns.size(), take);
}

core::Result<TableDigest> digestOf(Session& session, const TableShape& table) {
    std::vector<std::string> digests;
    const auto rows = eachRow(session, selectSql(table, ""), table.columns.size(),
                              [&](const std::vector<Value>& row) -> core::Result<void> {
                                  std::string text;
                                  for (std::size_t i = 0; i < row.size(); ++i)
                                      text += table.columns[i] + "=" + canonical(row[i]) + ";";
                                  digests.push_back(sha256(text));
                                  return {};
                              });
    if (!rows)
        return core::failureOf(rows);
    std::ranges::sort(digests);
    std::string all;
    for (const auto& one : digests)
        all += one;
    return TableDigest{*rows, sha256(all)};
}

} // namespace milehold::storage
