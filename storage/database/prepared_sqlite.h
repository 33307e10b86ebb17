// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "storage/database/prepared.h"

struct sqlite3;

namespace milehold::storage {

/// A statement by SQLite's own interface on a connection that Qt has opened.
core::Result<std::shared_ptr<Prepared>> prepareBySqlite(sqlite3* handle, std::string_view sql,
                                                        std::string_view what);

} // namespace milehold::storage
