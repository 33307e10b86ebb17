// SPDX-License-Identifier: GPL-3.0-or-later
// Counts are one sufficient statistic, whoever adds the lives up: one pass over columns, a GROUP BY of SQLite
// that really runs, or the sum of two parts.
#include "core/survival/counts.h"
#include "core/survival/curve_taking.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>
#include <sqlite3.h>

#include <memory>
#include <vector>

namespace milehold::core {
namespace {

using Database = std::unique_ptr<sqlite3, decltype(&sqlite3_close)>;
using Statement = std::unique_ptr<sqlite3_stmt, decltype(&sqlite3_finalize)>;

Statement prepared(sqlite3* database, const char* sql) {
    sqlite3_stmt* statement = nullptr;
    RC_ASSERT(sqlite3_prepare_v2(database, sql, -1, &statement, nullptr) == SQLITE_OK);
    return {statement, sqlite3_finalize};
}

// The lives as rows of a table, one a repair.
Database tableOf(const Lives& lives) {
    sqlite3* opened = nullptr;
    RC_ASSERT(sqlite3_open(":memory:", &opened) == SQLITE_OK);
    Database database(opened, sqlite3_close);
    RC_ASSERT(sqlite3_exec(opened,
                           "CREATE TABLE life (part INTEGER, entry REAL, miles REAL, ending INTEGER); BEGIN",
                           nullptr, nullptr, nullptr) == SQLITE_OK);
    const Statement insert = prepared(opened, "INSERT INTO life VALUES (?1, ?2, ?3, ?4)");
    for (std::size_t i = 0; i < lives.size(); ++i) {
        sqlite3_bind_int64(insert.get(), 1, lives.groupOf(i));
        sqlite3_bind_double(insert.get(), 2, lives.entryOf(i));
        sqlite3_bind_double(insert.get(), 3, lives.miles[i]);
        sqlite3_bind_int(insert.get(), 4, lives.end[i]);
        RC_ASSERT(sqlite3_step(insert.get()) == SQLITE_DONE);
        sqlite3_reset(insert.get());
    }
    return database;
}

std::vector<CountRow> groupedBySql(sqlite3* database) {
    const Statement select =
        prepared(database, "SELECT entry, miles, ending, count(*) FROM life GROUP BY entry, miles, ending");
    std::vector<CountRow> rows;
    while (sqlite3_step(select.get()) == SQLITE_ROW)
        rows.push_back({sqlite3_column_double(select.get(), 0), sqlite3_column_double(select.get(), 1),
                        static_cast<EndCode>(sqlite3_column_int(select.get(), 2)),
                        sqlite3_column_double(select.get(), 3)});
    return rows;
}

// Whole miles with ties or odd fractions, comebacks at 0, late entries, four ends, in three parts.
Lives someLives() {
    const auto n = *rc::gen::inRange<std::size_t>(1, 120);
    const double unit = *rc::gen::elementOf(std::vector<double>{1, 1.609344, 1e6, 1.0 / 3});
    Lives lives;
    lives.endNames = {"holding", "came-back", "scrapped", "elsewhere"};
    lives.groupNames = {"a", "b", "c"};
    for (std::size_t i = 0; i < n; ++i) {
        const int miles = *rc::gen::inRange(0, 40);
        lives.miles.push_back(miles * unit);
        lives.entry.push_back(miles > 0 ? *rc::gen::inRange(0, miles) * unit : 0);
        lives.end.push_back(*rc::gen::elementOf(std::vector<EndCode>{0, 0, 1, 1, 2, 3}));
        lives.group.push_back(*rc::gen::inRange(0U, 3U));
    }
    return lives;
}

RC_GTEST_PROP(SqlCountsProperty, AreTheSameFromColumnsFromAGroupByAndByAdding, ()) {
    const Lives lives = someLives();
    const Database database = tableOf(lives);
    const Counts counts = countsOfAll(lives, true);
    Counts grouped = countsFromRows(groupedBySql(database.get()), true);
    grouped.leftBy.resize(counts.leftBy.size(),
                          std::vector<double>(counts.size(), 0.0)); // ends that no row has
    RC_ASSERT(grouped == counts);
    Counts added;
    for (const Counts& part : countsByGroup(lives, true))
        added = merged(added, part);
    RC_ASSERT(added == counts);
    RC_ASSERT(countsFromRows(groupedBySql(database.get())) == countsOfAll(lives));
    // So is what is read from them, to the last bit.
    const auto one = survivalCurve(counts), other = curveTaking(std::move(grouped));
    RC_ASSERT(one.has_value() && other.has_value());
    RC_ASSERT(one->survival == other->survival && one->se == other->se && one->lower == other->lower &&
              one->upper == other->upper && one->comebacks == other->comebacks);
}

} // namespace
} // namespace milehold::core
