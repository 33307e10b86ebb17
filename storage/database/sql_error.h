// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <QSqlError>

#include <string_view>

namespace milehold::storage {

/// What a failure of the database means to us, by SQLite's result code; `what` says what was being done.
/// The detail names the code and, for a broken rule, the constraint. It never holds SQL or values: only text
/// of the forms that SQLite builds from names in the schema is let through.
core::Error sqlError(const QSqlError& error, std::string_view what);
/// The same from an extended result code and SQLite's message.
core::Error sqlError(int extendedCode, std::string_view message, std::string_view what);

} // namespace milehold::storage
