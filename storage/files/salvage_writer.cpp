// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/salvage_writer.h"

#include "storage/database/change_row.h"
#include "storage/database/sql_error.h"
#include "storage/database/sql_name.h"
#include "storage/files/durable.h"

#include <sqlite3.h>

#include <array>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

constexpr auto kWhat = "salvage the shop";
constexpr int kMostRounds = 100;

using Statement = std::unique_ptr<sqlite3_stmt, decltype(&sqlite3_finalize)>;

Statement prepare(sqlite3* handle, const std::string& sql) {
    sqlite3_stmt* made = nullptr;
    sqlite3_prepare_v2(handle, sql.c_str(), -1, &made, nullptr);
    return {made, sqlite3_finalize};
}

std::string textIn(sqlite3_stmt* row, int column) {
    const auto* text = reinterpret_cast<const char*>(sqlite3_column_text(row, column));
    return text == nullptr ? std::string()
                           : std::string(text, static_cast<std::size_t>(sqlite3_column_bytes(row, column)));
}

core::Result<std::vector<std::string>> textsOf(sqlite3* handle, const std::string& sql, int column = 0) {
    std::vector<std::string> texts;
    const Statement ask = prepare(handle, sql);
    int code = ask ? sqlite3_step(ask.get()) : sqlite3_extended_errcode(handle);
    for (; code == SQLITE_ROW; code = sqlite3_step(ask.get()))
        texts.push_back(textIn(ask.get(), column));
    if (code != SQLITE_DONE)
        return tl::unexpected(sqlError(code, "", kWhat));
    return texts;
}

bool isRefusal(int code) {
    const int kind = code & 0xff;
    return kind == SQLITE_CONSTRAINT || kind == SQLITE_MISMATCH || kind == SQLITE_TOOBIG;
}

std::string insertInto(const std::string& table, const std::vector<std::string>& columns) {
    std::string namesSql;
    std::string placesSql;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        namesSql += (i == 0 ? "" : ", ") + sqlName(columns[i]);
        placesSql += (i == 0 ? "?" : ", ?") + sqlNumber(static_cast<std::int64_t>(i) + 1);
    }
    return "INSERT INTO " + sqlName(table) + " (" + namesSql + ") VALUES (" + placesSql + ")";
}

/// Binds the columns of a row behind its first `skip` and inserts them. Output: SQLite's code.
int copyRow(sqlite3_stmt* insert, sqlite3_stmt* row, int skip) {
    sqlite3_reset(insert);
    for (int i = skip; i < sqlite3_column_count(row); ++i)
        sqlite3_bind_value(insert, i - skip + 1, sqlite3_column_value(row, i));
    const int code = sqlite3_step(insert);
    sqlite3_reset(insert);
    return code;
}

bool isOwn(const std::string& table) {
    return table == "change_log" || table == "change_value" || table == "schema_migration" ||
           table == "counter";
}

std::string quotedCell(const std::string& text) {
    std::string cell = "\"";
    for (const char c : text)
        cell += c == '"' ? "\"\"" : std::string(1, c);
    return cell + "\"";
}

} // namespace

void SalvageWriter::Close::operator()(sqlite3* handle) const {
    sqlite3_close(handle);
}

core::Result<SalvageWriter> SalvageWriter::open(const fs::path& fresh,
                                                const std::optional<fs::path>& backup) {
    sqlite3* handle = nullptr;
    const int code =
        sqlite3_open_v2(fresh.c_str(), &handle, SQLITE_OPEN_READWRITE | SQLITE_OPEN_EXRESCODE, nullptr);
    SalvageWriter writer(handle);
    if (code != SQLITE_OK)
        return tl::unexpected(sqlError(code, "", kWhat));
    if (backup) {
        sqlite3* copy = nullptr;
        if (sqlite3_open_v2(backup->c_str(), &copy, SQLITE_OPEN_READONLY, nullptr) == SQLITE_OK)
            writer.backup_.reset(copy);
        else
            sqlite3_close(copy);
    }
    auto triggers = textsOf(handle, "SELECT sql FROM sqlite_schema WHERE type = 'trigger' ORDER BY rowid");
    const auto names = textsOf(handle, "SELECT name FROM sqlite_schema WHERE type = 'trigger'");
    const auto tables = textsOf(handle, "SELECT name FROM sqlite_schema WHERE type = 'table' "
                                        "AND name NOT LIKE 'sqlite_%' ORDER BY rowid");
    if (!triggers || !names || !tables)
        return core::failureOf(!triggers ? triggers : !names ? names : tables);
    writer.triggers_ = std::move(*triggers);
    for (const auto& name : *names) {
        if (auto dropped = writer.run("DROP TRIGGER " + sqlName(name)); !dropped)
            return core::failureOf(dropped);
    }
    for (const auto& table : *tables) {
        SalvagedTable one;
        one.name = table;
        if (writer.backup_) {
            const Statement count = prepare(writer.backup_.get(), "SELECT count(*) FROM " + sqlName(table));
            if (count && sqlite3_step(count.get()) == SQLITE_ROW)
                one.inBackup = sqlite3_column_int64(count.get(), 0);
        }
        writer.tables_[table] = one;
    }
    if (auto off = writer.run("PRAGMA foreign_keys = OFF"); !off)
        return core::failureOf(off);
    if (auto begun = writer.run("BEGIN IMMEDIATE"); !begun)
        return core::failureOf(begun);
    return writer;
}

core::Result<void> SalvageWriter::run(const std::string& sql) const {
    const int code = sqlite3_exec(handle_.get(), sql.c_str(), nullptr, nullptr, nullptr);
    if (code != SQLITE_OK)
        return tl::unexpected(sqlError(sqlite3_extended_errcode(handle_.get()), "", kWhat));
    return {};
}

core::Result<std::vector<std::string>> SalvageWriter::columnsOf(const std::string& table) const {
    return textsOf(handle_.get(), "PRAGMA table_info(" + sqlName(table) + ")", 1);
}

core::Result<void> SalvageWriter::takeRecords(LenientReader& from) {
    for (auto& entry : tables_) {
        // No structured binding: clang before 16 lets no lambda refer to one.
        const auto& name = entry.first;
        auto& table = entry.second;
        if (isOwn(name))
            continue;
        if (!from.hasTable(name)) {
            table.hasGap = table.inBackup.value_or(1) > 0;
            continue;
        }
        const auto columns = columnsOf(name);
        if (!columns)
            return core::failureOf(columns);
        const Statement insert = prepare(handle_.get(), insertInto(name, *columns));
        if (!insert)
            return core::fail(ErrorCode::Internal, "a table of the schema cannot be filled");
        int failure = SQLITE_OK;
        table.hasGap = from.eachRow(name, *columns, [&](sqlite3_stmt* row) {
            const int code = copyRow(insert.get(), row, 1);
            if (code == SQLITE_DONE)
                ++table.saved;
            else if (isRefusal(code))
                ++table.refused;
            else
                failure = code;
        });
        if (failure != SQLITE_OK)
            return tl::unexpected(sqlError(failure, "", kWhat));
    }
    return {};
}

core::Result<void> SalvageWriter::takeLog(LenientReader& from, const fs::path& aside) {
    const std::vector<std::string> columns = {"seq",        "at",     "staff_id", "station",     "action",
                                              "table_name", "row_id", "fields",   "hash_before", "hash"};
    auto& log = tables_["change_log"];
    const Statement insert = prepare(handle_.get(), insertInto("change_log", columns));
    std::string rest;
    std::string before;
    int failure = SQLITE_OK;
    log.hasGap = from.eachRow("change_log", columns, [&](sqlite3_stmt* row) {
        std::array<std::string, 10> cells;
        for (int i = 0; i < 10; ++i)
            cells[static_cast<std::size_t>(i)] = textIn(row, i + 1);
        const StoredChange stored{cells[0], cells[1], cells[2], cells[3], cells[4],
                                  cells[5], cells[6], cells[7], cells[8], cells[9]};
        const bool fits = rest.empty() && stored.sequence == std::to_string(logKept_ + 1) &&
                          stored.before == before && stored.hash == hashOf(stored);
        const int code = fits ? copyRow(insert.get(), row, 1) : SQLITE_CONSTRAINT;
        if (code == SQLITE_DONE) {
            before = stored.hash;
            ++logKept_;
        } else if (isRefusal(code)) {
            ++logAside_;
            for (std::size_t i = 0; i < cells.size(); ++i)
                rest += (i == 0 ? "" : ",") + quotedCell(cells[i]);
            rest += "\r\n";
        } else {
            failure = code;
        }
    });
    if (failure != SQLITE_OK)
        return tl::unexpected(sqlError(failure, "", kWhat));
    log.saved = logKept_;
    auto& values = tables_["change_value"];
    const auto valueColumns = columnsOf("change_value");
    if (!valueColumns)
        return core::failureOf(valueColumns);
    const Statement insertValue = prepare(handle_.get(), insertInto("change_value", *valueColumns));
    values.hasGap = from.eachRow("change_value", *valueColumns, [&](sqlite3_stmt* row) {
        if (sqlite3_column_int64(row, 1) > logKept_)
            return;
        const int code = copyRow(insertValue.get(), row, 1);
        if (code == SQLITE_DONE)
            ++values.saved;
        else if (isRefusal(code))
            ++values.refused;
        else
            failure = code;
    });
    if (failure != SQLITE_OK)
        return tl::unexpected(sqlError(failure, "", kWhat));
    if (rest.empty())
        return {};
    return createFile(aside,
                      "seq,at,staff_id,station,action,table_name,row_id,fields,hash_before,hash\r\n" + rest);
}

core::Result<void> SalvageWriter::pause() {
    return run("COMMIT");
}

core::Result<void> SalvageWriter::refuse(const std::string& table, const std::vector<std::string>& ids) {
    if (sqlite3_get_autocommit(handle_.get()) != 0) {
        if (auto begun = run("BEGIN IMMEDIATE"); !begun)
            return begun;
    }
    const Statement remove = prepare(handle_.get(), "DELETE FROM " + sqlName(table) + " WHERE id = ?1");
    for (const auto& id : ids) {
        sqlite3_reset(remove.get());
        sqlite3_bind_text(remove.get(), 1, id.data(), static_cast<int>(id.size()), SQLITE_TRANSIENT);
        if (sqlite3_step(remove.get()) != SQLITE_DONE)
            return core::fail(ErrorCode::DiskProblem, "a row cannot be taken out again");
        --tables_[table].saved;
        ++tables_[table].refused;
    }
    return {};
}

bool SalvageWriter::fetchFromBackup(const std::string& table, const std::string& id) {
    if (!backup_)
        return false;
    const auto columns = columnsOf(table);
    if (!columns)
        return false;
    std::string listSql;
    for (const auto& column : *columns)
        listSql += (listSql.empty() ? "" : ", ") + sqlName(column);
    const Statement find =
        prepare(backup_.get(), "SELECT " + listSql + " FROM " + sqlName(table) + " WHERE id = ?1");
    const Statement insert = prepare(handle_.get(), insertInto(table, *columns));
    if (!find || !insert) // a backup of an older schema
        return false;
    sqlite3_bind_text(find.get(), 1, id.data(), static_cast<int>(id.size()), SQLITE_TRANSIENT);
    if (sqlite3_step(find.get()) != SQLITE_ROW || copyRow(insert.get(), find.get(), 0) != SQLITE_DONE)
        return false;
    ++tables_[table].saved;
    ++tables_[table].fromBackup;
    return true;
}

core::Result<void> SalvageWriter::mendReferences() {
    for (int round = 0; round < kMostRounds; ++round) {
        struct Dangling {
            std::string table;
            std::int64_t rowid;
            std::string parent;
            int key;
        };
        std::vector<Dangling> all;
        const Statement check = prepare(handle_.get(), "PRAGMA foreign_key_check");
        while (check && sqlite3_step(check.get()) == SQLITE_ROW)
            all.push_back({textIn(check.get(), 0), sqlite3_column_int64(check.get(), 1),
                           textIn(check.get(), 2), sqlite3_column_int(check.get(), 3)});
        if (all.empty())
            break;
        for (const auto& one : all) {
            const std::string tableSql = sqlName(one.table);
            const std::string whereSql = " WHERE rowid = " + sqlNumber(one.rowid);
            const Statement keys = prepare(handle_.get(), "PRAGMA foreign_key_list(" + tableSql + ")");
            std::string columnSql;
            while (keys && sqlite3_step(keys.get()) == SQLITE_ROW) {
                if (sqlite3_column_int(keys.get(), 0) == one.key)
                    columnSql = sqlName(textIn(keys.get(), 3));
            }
            const auto named = textsOf(handle_.get(), "SELECT " + columnSql + " FROM " + tableSql + whereSql);
            if (!named)
                return core::failureOf(named);
            if (named->empty())
                continue; // taken out in this round already
            const auto there =
                textsOf(handle_.get(), "SELECT 1 FROM " + sqlName(one.parent) + " WHERE " +
                                           (one.parent == "change_log" ? "seq" : "id") + " = (SELECT " +
                                           columnSql + " FROM " + tableSql + whereSql + ")");
            if (!there)
                return core::failureOf(there);
            if (!there->empty() ||
                (one.parent != "change_log" && fetchFromBackup(one.parent, named->front())))
                continue;
            if (run("UPDATE " + tableSql + " SET " + columnSql + " = NULL" + whereSql))
                continue;
            if (auto removed = run("DELETE FROM " + tableSql + whereSql); !removed)
                return removed;
            --tables_[one.table].saved;
            ++tables_[one.table].refused;
        }
    }
    return run("UPDATE counter SET next = max(next, (SELECT coalesce(max(number), 0) + 1 FROM job)) "
               "WHERE name = 'job'");
}

core::Result<void> SalvageWriter::finish() {
    for (const auto& trigger : triggers_) {
        if (auto made = run(trigger); !made)
            return made;
    }
    if (auto done = run("COMMIT"); !done)
        return done;
    const int code = sqlite3_close(handle_.release());
    if (code != SQLITE_OK)
        return tl::unexpected(sqlError(code, "", kWhat));
    return {};
}

} // namespace milehold::storage
