// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/database/value.h"

#include <filesystem>
#include <memory>
#include <string_view>

struct sqlite3;

namespace milehold::storage {

/// A database file by SQLite's own interface, without Qt: for copies that are made or checked alone.
class RawDatabase {
public:
    /// Opens a closed file that nobody may change meanwhile; no journal is looked for and nothing is ever
    /// written. Views and triggers of the file are off.
    static core::Result<RawDatabase> openAlone(const std::filesystem::path& file);
    /// Makes a new file; one that exists is an error.
    static core::Result<RawDatabase> create(const std::filesystem::path& file);

    /// The first column of the first row; NULL when there is no row.
    core::Result<Value> ask(std::string_view sql) const;
    /// The same with a text for its one placeholder, ?1.
    core::Result<Value> ask(std::string_view sql, std::string_view text) const;
    /// Fills this new database with all of another connection's. Cost: one read of every page.
    core::Result<void> fillFrom(sqlite3* source);
    core::Result<void> close();

private:
    struct Close {
        void operator()(sqlite3* handle) const;
    };
    explicit RawDatabase(sqlite3* handle) : handle_(handle) {}
    std::unique_ptr<sqlite3, Close> handle_;
};

} // namespace milehold::storage
