// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"
#include "storage/who.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

class Session;

/// Export: records left the shop as a file; `table` says which, the fields how many.
enum class ChangeAction : std::uint8_t { Insert, Update, Delete, Export };

/// One changed field. A list (lines, parts, codes, phones) is one field in JSON.
struct FieldChange {
    std::string field;                 ///< the column's name, e.g. `odometer_out`
    std::optional<std::string> before; ///< empty: NULL, or no row
    std::optional<std::string> after;
    bool withheld = false; ///< the values were forgotten on a customer's request
    friend bool operator==(const FieldChange&, const FieldChange&) = default;
};

/// One row of the append-only log: what one transaction did to one record.
struct Change {
    std::int64_t sequence = 0;
    core::Moment at;
    Who who;
    ChangeAction action = ChangeAction::Insert;
    std::string table; ///< `job`, `vehicle`, `customer`, `follow_up` ...
    core::Uuid row;
    std::vector<FieldChange> fields;
    std::string hash; ///< SHA-256 over this row and the hash before it, hexadecimal
    friend bool operator==(const Change&, const Change&) = default;
};

/// The newest row of the chain: the outside anchor that backups and the day sheet carry.
struct ChainHead {
    std::int64_t sequence = 0;
    std::string hash;
    friend bool operator==(const ChainHead&, const ChainHead&) = default;
};

/// The log that every save writes in its own transaction. Read here, never written.
class ChangeLog {
public:
    explicit ChangeLog(Session& session) : session_(session) {}

    /// All changes of one record, newest first.
    core::Result<std::vector<Change>> of(std::string_view table, const core::Uuid& row) const;
    core::Result<std::vector<Change>> newest(std::size_t limit) const;
    core::Result<ChainHead> head() const;
    /// Walks the whole chain. Empty: every row fits; else the sequence of the first that does not.
    /// Cost: one pass over the log.
    core::Result<std::optional<std::int64_t>> firstBroken() const;

private:
    Session& session_;
};

} // namespace milehold::storage
