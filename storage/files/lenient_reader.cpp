// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/lenient_reader.h"

#include "storage/database/dialect.h"
#include "storage/database/sql_error.h"
#include "storage/database/sql_name.h"
#include "storage/files/durable.h"

#include <sqlite3.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <limits>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

constexpr std::size_t kHeaderBytes = 100;
constexpr std::size_t kMostProbes = 20'000;
constexpr std::size_t kPageSize = 4096; // what every shop is made with

using Statement = std::unique_ptr<sqlite3_stmt, decltype(&sqlite3_finalize)>;

Statement prepare(sqlite3* handle, const std::string& sql) {
    sqlite3_stmt* made = nullptr;
    sqlite3_prepare_v2(handle, sql.c_str(), -1, &made, nullptr);
    return {made, sqlite3_finalize};
}

sqlite3* openLoosely(const fs::path& file) {
    sqlite3* handle = nullptr;
    if (sqlite3_open_v2(file.c_str(), &handle, SQLITE_OPEN_READWRITE | SQLITE_OPEN_EXRESCODE, nullptr) !=
        SQLITE_OK) {
        sqlite3_close(handle);
        return nullptr;
    }
    sqlite3_db_config(handle, SQLITE_DBCONFIG_DEFENSIVE, 0, nullptr);
    sqlite3_db_config(handle, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
    sqlite3_db_config(handle, SQLITE_DBCONFIG_ENABLE_VIEW, 0, nullptr);
    sqlite3_db_config(handle, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, nullptr);
    // An error in one table's or index's definition is then no error in all others.
    sqlite3_exec(handle, "PRAGMA writable_schema = ON", nullptr, nullptr, nullptr);
    sqlite3_exec(handle, "PRAGMA cell_size_check = ON", nullptr, nullptr, nullptr);
    return handle;
}

bool canReadSchema(sqlite3* handle) {
    const Statement count = prepare(
        handle, "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name IN ('job', 'vehicle')");
    return count && sqlite3_step(count.get()) == SQLITE_ROW && sqlite3_column_int(count.get(), 0) == 2;
}

void put(std::string& bytes, std::size_t at, std::uint32_t number) {
    for (std::size_t i = 0; i < 4; ++i)
        bytes[at + i] = static_cast<char>(number >> (24U - 8U * i) & 0xffU);
}

std::uint32_t numberAt(const std::string& bytes, std::size_t at, std::size_t count) {
    std::uint32_t number = 0;
    for (std::size_t i = 0; i < count && at + i < bytes.size(); ++i)
        number = number << 8U | static_cast<unsigned char>(bytes[at + i]);
    return number;
}

/// The pages below the schema's first one, when it has any; by sqlite.org/fileformat2.html, "B-tree Pages".
std::vector<std::uint32_t> schemaPages(const std::string& firstPage) {
    constexpr char kInteriorTable = 0x05;
    constexpr std::size_t kCells = kHeaderBytes + 12;
    std::vector<std::uint32_t> pages;
    if (firstPage.size() < kPageSize || firstPage[kHeaderBytes] != kInteriorTable)
        return pages;
    pages.push_back(numberAt(firstPage, kHeaderBytes + 8, 4));
    const std::size_t cells = numberAt(firstPage, kHeaderBytes + 3, 2);
    for (std::size_t i = 0; i < cells && kCells + 2 * i < kPageSize; ++i)
        pages.push_back(numberAt(firstPage, numberAt(firstPage, kCells + 2 * i, 2), 4));
    return pages;
}

/// A backup is a copy page by page, so its schema lies where that of the damaged file did.
bool takeSchemaPages(std::fstream& file, std::uintmax_t size, const fs::path& backup,
                     const std::string& firstPage) {
    std::ifstream from(backup, std::ios::binary);
    std::string page(kPageSize, '\0');
    for (const std::uint32_t number : schemaPages(firstPage)) {
        const auto at = static_cast<std::uintmax_t>(number - 1) * kPageSize;
        if (number < 2 || at + kPageSize > size)
            continue;
        from.seekg(static_cast<std::streamoff>(at));
        if (!from.read(page.data(), kPageSize))
            return false;
        file.seekp(static_cast<std::streamoff>(at));
        file.write(page.data(), kPageSize);
    }
    return !file.fail();
}

/// Gives the copy a header that fits its size, and with `wholePage` the schema's pages, both from a good
/// backup.
bool mendFirstPage(const fs::path& copy, const std::optional<fs::path>& backup, bool wholePage) {
    std::error_code problem;
    const auto size = fs::file_size(copy, problem);
    if (problem || size < kPageSize)
        return false;
    const std::size_t count = wholePage ? kPageSize : kHeaderBytes;
    std::string first(count, '\0');
    if (backup) {
        std::ifstream(*backup, std::ios::binary).read(first.data(), static_cast<std::streamsize>(count));
    } else {
        std::ifstream(copy, std::ios::binary).read(first.data(), static_cast<std::streamsize>(count));
        // sqlite.org/fileformat2.html, "The Database Header".
        first.replace(0, 16, std::string("SQLite format 3\0", 16));
        first[16] = static_cast<char>(kPageSize >> 8U);
        first[17] = '\0';
        first[18] = first[19] = '\x01';
        first[20] = '\0';
        first[21] = '\x40';
        first[22] = first[23] = '\x20';
        put(first, 44, 4);
        put(first, 56, 1);
        put(first, 68, static_cast<std::uint32_t>(dialect::kApplicationId));
    }
    put(first, 28, static_cast<std::uint32_t>(size / kPageSize));
    put(first, 32, 0); // no free pages: what is not reached is not read
    put(first, 36, 0);
    put(first, 24, 1);
    put(first, 92, 1);
    std::fstream file(copy, std::ios::in | std::ios::out | std::ios::binary);
    file.write(first.data(), static_cast<std::streamsize>(count));
    if (wholePage && backup && !takeSchemaPages(file, size, *backup, first))
        return false;
    file.close();
    return !file.fail();
}

} // namespace

void LenientReader::Close::operator()(sqlite3* handle) const {
    sqlite3_close(handle);
}

core::Result<LenientReader> LenientReader::open(const fs::path& copy, const std::optional<fs::path>& backup) {
    // As it is (with its journal, which SQLite then plays back); with a mended header; with a backup's
    // schema.
    for (int attempt = 0; attempt < 3; ++attempt) {
        const bool wholePage = attempt == 2;
        if (wholePage && !backup)
            break;
        if (attempt > 0 && !mendFirstPage(copy, backup, wholePage))
            continue;
        LenientReader reader(openLoosely(copy));
        if (reader.handle_ && canReadSchema(reader.handle_.get()))
            return reader;
    }
    return core::fail(ErrorCode::Unreadable, "nothing of the damaged file can be read");
}

bool LenientReader::hasTable(const std::string& table) const {
    return prepare(handle_.get(), "SELECT 1 FROM " + sqlName(table) + " LIMIT 1") != nullptr;
}

std::int64_t LenientReader::schema() const {
    const Statement ask = prepare(handle_.get(), "PRAGMA user_version");
    return ask && sqlite3_step(ask.get()) == SQLITE_ROW ? sqlite3_column_int64(ask.get(), 0) : 0;
}

bool LenientReader::eachRow(const std::string& table, const std::vector<std::string>& columns,
                            const std::function<void(sqlite3_stmt* row)>& take) {
    std::string listSql;
    for (const auto& column : columns)
        listSql += ", " + sqlName(column);
    // By the table's own tree alone: an index may be damaged where the table is not.
    const Statement rows = prepare(handle_.get(), "SELECT rowid" + listSql + " FROM " + sqlName(table) +
                                                      " NOT INDEXED WHERE rowid > ?1 ORDER BY rowid");
    if (!rows)
        return true;
    constexpr auto kLast = std::numeric_limits<std::int64_t>::max();
    const auto startAt = [&](std::int64_t after) {
        sqlite3_reset(rows.get());
        sqlite3_bind_int64(rows.get(), 1, after);
        return sqlite3_step(rows.get());
    };
    bool hasGap = false;
    std::size_t probes = 0;
    std::int64_t last = std::numeric_limits<std::int64_t>::min();
    int code = startAt(last);
    while (code != SQLITE_DONE && probes < kMostProbes) {
        if (code == SQLITE_ROW) {
            const auto rowid = sqlite3_column_int64(rows.get(), 0);
            if (rowid > last) { // a damaged tree can lead in circles
                take(rows.get());
                last = rowid;
                code = sqlite3_step(rows.get());
                continue;
            }
        }
        // Leap ahead in growing steps to where the tree can be read again, and back to the first such place.
        hasGap = true;
        std::int64_t bad = std::max<std::int64_t>(last, 0);
        std::int64_t good = bad;
        for (std::int64_t step = 1; ++probes < kMostProbes; step *= 2) {
            if (good > kLast - step || step > kLast / 4)
                return true;
            good += step;
            code = startAt(good);
            if (code == SQLITE_DONE || (code == SQLITE_ROW && sqlite3_column_int64(rows.get(), 0) > last))
                break;
            bad = good;
        }
        while (good - bad > 1 && ++probes < kMostProbes) {
            const auto middle = bad + (good - bad) / 2;
            code = startAt(middle);
            (code == SQLITE_ROW || code == SQLITE_DONE ? good : bad) = middle;
        }
        last = std::max(last, good);
        code = startAt(good);
        if (code != SQLITE_ROW && code != SQLITE_DONE)
            last = good; // damaged again right behind
    }
    return hasGap || code != SQLITE_DONE;
}

} // namespace milehold::storage
