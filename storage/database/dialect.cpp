// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/dialect.h"

#include "storage/database/statement.h"

namespace milehold::storage::dialect {

std::string setSchemaVersion(std::int64_t version) {
    return "PRAGMA user_version = " + std::to_string(version);
}

core::Result<void> setForeignKeys(QSqlDatabase& database, bool on) {
    const auto what = "set foreign keys";
    if (auto set = runPlain(database, on ? "PRAGMA foreign_keys = ON" : "PRAGMA foreign_keys = OFF", what);
        !set) {
        return set;
    }
    const auto now = askPlain(database, "PRAGMA foreign_keys", what);
    if (!now)
        return core::failureOf(now);
    if (*now != intValue(on ? 1 : 0))
        return core::fail(core::ErrorCode::Internal, "foreign keys did not change");
    return {};
}

} // namespace milehold::storage::dialect
