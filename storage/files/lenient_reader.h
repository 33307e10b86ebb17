// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

struct sqlite3;
struct sqlite3_stmt;

namespace milehold::storage {

/// Reads what can still be read of a damaged database. It works on a copy that is its own: it mends the
/// copy's header, and takes the first page of a good backup where the schema cannot be read any more.
class LenientReader {
public:
    /// `copy` may be changed; `backup`: the file of a good backup of the same shop, if there is one.
    static core::Result<LenientReader> open(const std::filesystem::path& copy,
                                            const std::optional<std::filesystem::path>& backup);

    /// Calls `take` with a statement that stands on each readable row: column 0 is its rowid, the columns
    /// follow. Around damage it goes on at the next row that can be reached. Output: whether a part could not
    /// be read.
    bool eachRow(const std::string& table, const std::vector<std::string>& columns,
                 const std::function<void(sqlite3_stmt* row)>& take);
    bool hasTable(const std::string& table) const;
    std::int64_t schema() const; ///< 0: it cannot be read

private:
    struct Close {
        void operator()(sqlite3* handle) const;
    };
    explicit LenientReader(sqlite3* handle) : handle_(handle) {}
    std::unique_ptr<sqlite3, Close> handle_;
};

} // namespace milehold::storage
