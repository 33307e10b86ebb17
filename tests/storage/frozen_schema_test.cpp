// SPDX-License-Identifier: GPL-3.0-or-later
// Shops that earlier programs have written are opened by this one with every row as it was.
#include "storage/database/hash.h"
#include "tests/storage/support/shop_fixture.h"

#include <QByteArray>

#include <sqlite3.h>

#include <fstream>
#include <iostream>
#include <map>
#include <set>

namespace milehold::test {

namespace {

struct Frozen {
    int schema;
    const char* sha256; ///< of the file, so that nobody makes it anew unnoticed
};
constexpr Frozen kFrozen[] = {{1, "a9120887f4ba7bace993886450c019d1214133d0af6110f25cfb30f3d07df6ba"},
                              {2, "b11dbbaaa2763d65cdca46209a60cdacaa77c268ff9326afe313d4dd12d98529"},
                              {3, "462c60f5f3406210454f9c34cbd0a16a5ae1c65c5c5c16bbf5aa04c39bb9fe7e"}};

std::string readAll(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

fs::path fixture(int schema, const char* ending) {
    return fs::path(MILEHOLD_SOURCE_DIR) / "tests/storage/fixtures" /
           ("schema_000" + std::to_string(schema) + ending);
}

class Reader {
public:
    explicit Reader(const fs::path& file) { EXPECT_EQ(sqlite3_open(file.c_str(), &handle_), SQLITE_OK); }
    ~Reader() { sqlite3_close(handle_); }
    Reader(const Reader&) = delete;
    Reader& operator=(const Reader&) = delete;
    void run(const std::string& sql) const {
        char* problem = nullptr;
        EXPECT_EQ(sqlite3_exec(handle_, sql.c_str(), nullptr, nullptr, &problem), SQLITE_OK) << problem;
        sqlite3_free(problem);
    }
    std::vector<std::string> column(const std::string& sql, int which = 0) const {
        std::vector<std::string> all;
        sqlite3_stmt* statement = nullptr;
        EXPECT_EQ(sqlite3_prepare_v2(handle_, sql.c_str(), -1, &statement, nullptr), SQLITE_OK) << sql;
        while (sqlite3_step(statement) == SQLITE_ROW) {
            const auto* text = reinterpret_cast<const char*>(sqlite3_column_text(statement, which));
            all.emplace_back(text == nullptr ? "" : text);
        }
        sqlite3_finalize(statement);
        return all;
    }
    /// Every row of a table, the columns in one text; `columns` by table.
    std::multiset<std::string> rows(const std::string& table, const std::vector<std::string>& columns) const {
        std::string list;
        for (const auto& name : columns)
            list += (list.empty() ? "quote(" : " || ',' || quote(") + name + ")";
        const auto all = column("SELECT " + list + " FROM " + table);
        return {all.begin(), all.end()};
    }
    std::map<std::string, std::vector<std::string>> tables() const {
        std::map<std::string, std::vector<std::string>> found;
        for (const auto& name : column("SELECT name FROM sqlite_schema WHERE type = 'table' "
                                       "AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\'"))
            found[name] = column("PRAGMA table_info(" + name + ")", 1);
        return found;
    }

private:
    sqlite3* handle_ = nullptr;
};

} // namespace

class FrozenSchema : public ::testing::TestWithParam<Frozen> {
protected:
    fs::path folder() const { return temporary_.path() / "Frozen.milehold"; }
    fs::path file() const { return folder() / "store" / "shop.db"; }
    void layOut() const {
        fs::create_directories(folder() / "store");
        const std::string packed = readAll(fixture(GetParam().schema, ".db.z"));
        const QByteArray bytes = qUncompress(QByteArray::fromStdString(packed));
        ASSERT_EQ(
            storage::sha256(std::string_view(bytes.constData(), static_cast<std::size_t>(bytes.size()))),
            GetParam().sha256);
        std::ofstream(file(), std::ios::binary) << bytes.toStdString();
    }
    TemporaryFolder temporary_;
};

TEST_P(FrozenSchema, OpensTodayWithEveryRowAsItWas) {
    layOut();
    std::map<std::string, std::vector<std::string>> tables;
    std::map<std::string, std::multiset<std::string>> before;
    {
        const Reader reader(file());
        tables = reader.tables();
        for (const auto& [table, columns] : tables)
            before[table] = reader.rows(table, columns);
    }
    std::size_t jobs = 0;
    {
        auto shop = storage::Shop::open(folder());
        ASSERT_OK(shop);
        EXPECT_TRUE((*shop)->verify(storage::CheckDepth::Full)->sound());
        jobs = (*shop)->jobs().rows({.limit = 1000})->size();
        EXPECT_OK((*shop)->lives().records(day(2031, 5, 16)));
        ASSERT_OK((*shop)->close());
    }
    EXPECT_EQ(jobs, before.at("job").size());
    const Reader reader(file());
    std::size_t rows = 0;
    for (const auto& [table, columns] : tables) {
        const auto after = reader.rows(table, columns);
        rows += before[table].size();
        if (table == "schema_migration") // today's steps were added
            EXPECT_TRUE(std::ranges::includes(after, before[table])) << table;
        else
            EXPECT_TRUE(after == before[table]) << table;
    }
    std::cout << "schema " << GetParam().schema << ": " << tables.size() << " tables, " << rows
              << " rows opened today as they were, " << jobs << " jobs\n";
    EXPECT_GT(rows, 100U);
}

TEST_P(FrozenSchema, GivesAClaimOfBeforeTheStateThatItsNumberOrDeadlineTells) {
    layOut();
    if (GetParam().schema >= 3)
        GTEST_SKIP() << "its claims have states";
    {
        const Reader old(file());
        old.run("UPDATE job SET claim_number = '', claim_deadline = NULL");
        old.run("UPDATE job SET claim_number = 'LD-7', claim_deadline = '2031-06-01' WHERE number = 1");
        old.run("UPDATE job SET claim_deadline = '2031-06-02' WHERE number = 2");
    }
    {
        auto shop = storage::Shop::open(folder());
        ASSERT_OK(shop);
        EXPECT_EQ((*shop)->jobs().findByNumber(1).value()->claimState, core::ClaimState::Filed);
        EXPECT_EQ((*shop)->jobs().findByNumber(2).value()->claimState, core::ClaimState::ToFile);
        EXPECT_EQ((*shop)->jobs().findByNumber(3).value()->claimState, core::ClaimState::None);
        ASSERT_OK((*shop)->close());
    }
}

TEST_P(FrozenSchema, HasADumpThatHoldsTheSame) {
    layOut();
    const fs::path loaded = temporary_.path() / "loaded.db";
    const Reader dump(loaded);
    dump.run(readAll(fixture(GetParam().schema, ".sql")));
    const Reader reader(file());
    EXPECT_EQ(dump.tables(), reader.tables());
    for (const auto& [table, columns] : reader.tables())
        EXPECT_TRUE(dump.rows(table, columns) == reader.rows(table, columns)) << table;
}

INSTANTIATE_TEST_SUITE_P(Released, FrozenSchema, ::testing::ValuesIn(kFrozen),
                         [](const auto& made) { return "Schema" + std::to_string(made.param.schema); });

} // namespace milehold::test
