// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <QSqlError>

#include <string_view>

namespace milehold::storage {

/// What a failure of the database means to us, by SQLite's result code or PostgreSQL's SQLSTATE; `what` says
/// what was being done. The detail names the code and, for a broken rule, the constraint. It never holds SQL
/// or values: only text of the forms that the engine builds from names in the schema is let through.
core::Error sqlError(const QSqlError& error, std::string_view what);
/// The same from SQLite's extended result code and message.
core::Error sqlError(int extendedCode, std::string_view message, std::string_view what);
/// The same from a SQLSTATE (PostgreSQL manual, appendix A) and the server's message. A blank state is a lost
/// connection.
core::Error stateError(std::string_view state, std::string_view message, std::string_view what);

/// Whether the server gave this transaction up for another's sake, so that the whole unit may be run again.
bool isWorthRepeating(const core::Error& error);

} // namespace milehold::storage
