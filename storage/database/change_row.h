// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/change_log.h"
#include "storage/database/unit_of_work.h"

#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

/// The newest row of the chain; sequence 0 and a blank hash when there is none.
core::Result<ChainHead> readChainHead(Session& session);

/// Adds one row after `head` and returns the new head. Personal values enter the chained text as an HMAC
/// under a key of that record, and stand beside it in `change_value`: both can be deleted, and the chain
/// still fits.
core::Result<ChainHead> writeChange(Session& session, const ChainHead& head, core::Moment at,
                                    ChangeAction action, std::string_view table, const core::Uuid& row,
                                    const std::vector<LoggedField>& fields);

/// The moment of a unit of work that goes on after `head`: now, or a thousandth of a second later than the
/// row before when both fall into one, so that the rows of two units never share a moment.
core::Result<core::Moment> momentAfter(Session& session, const ChainHead& head);

/// The changes from one sequence to another, both included, newest first.
core::Result<std::vector<Change>> changesBetween(Session& session, std::int64_t first, std::int64_t last);

/// A row of the log as it is stored.
struct StoredChange {
    std::string sequence;
    std::string at;
    std::string staff; ///< blank: nobody said
    std::string station;
    std::string action;
    std::string table;
    std::string row;
    std::string fields; ///< JSON: a list of {"f": field, "b": before, "a": after, "p": 1 when personal}
    std::string before; ///< the hash of the row before
    std::string hash;
};

/// What `hash` must be.
std::string hashOf(const StoredChange& row);

std::string_view codeOf(ChangeAction action);

} // namespace milehold::storage
