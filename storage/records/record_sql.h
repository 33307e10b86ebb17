// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/finding.h"
#include "core/shop/id.h"
#include "storage/database/session.h"
#include "storage/database/value.h"

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

struct UuidHash {
    std::size_t operator()(const core::Uuid& uuid) const {
        return std::hash<core::JobId>()(core::JobId{uuid});
    }
};

struct ListSql {
    std::string select;    ///< the read columns of one owner, in order of place
    std::string selectAll; ///< the same of every owner, with the owner in front
    std::string remove;
    std::string insert;
    std::vector<std::string> placeholders;
    std::string what;
};

/// The statements of one table, put together from the names in our own RecordTable: never from anything
/// typed.
struct RecordSql {
    std::string select; ///< id, rev, the readable columns; without a condition
    std::string insert;
    std::string update;
    std::string remove;
    std::vector<std::string> placeholders; ///< one a column
    std::string reading;
    std::string saving;
    std::string removing;
    std::vector<ListSql> lists;
};

RecordSql makeRecordSql(std::string_view table, const std::vector<std::string_view>& readable,
                        const std::vector<std::string_view>& all);
ListSql makeListSql(std::string_view table, std::string_view owner,
                    const std::vector<std::string_view>& columns, std::size_t readColumns);

core::Result<std::vector<std::vector<Value>>> readList(Session& session, const ListSql& sql,
                                                       const core::Uuid& owner, std::size_t readColumns);
/// Every row of a list table, by owner and place.
core::Result<void>
eachOfList(Session& session, const ListSql& sql, std::size_t readColumns,
           const std::function<void(const core::Uuid& owner, const std::vector<Value>& row)>& take);
core::Result<void> writeList(Session& session, const ListSql& sql, const core::Uuid& owner,
                             const std::vector<std::vector<Value>>& rows, bool replace);
/// A list as the change log holds it, in JSON; NULL when it is empty.
Value listText(const std::vector<std::vector<Value>>& rows, std::size_t columns);

/// The inverse of listText(); empty when it is no such list.
std::optional<std::vector<std::vector<Value>>> listFromText(std::string_view text, std::size_t columns);

tl::unexpected<core::Error> conflict(std::string_view table);
/// A column holds a value that its field cannot take.
tl::unexpected<core::Error> unknownValue(std::string_view table, std::string_view column);

} // namespace milehold::storage
