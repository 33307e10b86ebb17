// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/change_log.h"

#include <cstdint>
#include <string>
#include <string_view>

namespace milehold::storage {

class Session;

/// Marks that a unit of work puts beside the fields of its rows in the change log: the save that it reverses,
/// by its first row; that it forgot somebody.
inline constexpr std::string_view kReversesMark = "reverses";
inline constexpr std::string_view kForgottenMark = "forgotten";

enum class Reversal : std::uint8_t {
    Done,
    ChangedSince, ///< the record does not hold what this change left in it; nothing was written
    Forgotten     ///< the values are gone on a customer's request
};

/// Whether changes of this table can be reversed.
bool canReverse(std::string_view table);

/// Brings one record from what a change left back to what was before it, through its store and its rules: a
/// new job is voided with the reason, another new record removed, a removed one put back under its key.
/// Errors: those of the stores; Unsupported for a table that has no way back.
core::Result<Reversal> reverseChange(Session& session, const Change& change, const std::string& voidReason);

/// What a person calls a record; blank when it is gone or has no name.
core::Result<std::string> labelOfRecord(Session& session, std::string_view table, const core::Uuid& row);

} // namespace milehold::storage
