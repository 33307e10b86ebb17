// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/sqlite_handle.h"

#include <QSqlDatabase>
#include <QSqlDriver>
#include <QSqlQuery>
#include <QVariant>

#include <sqlite3.h>

#include <cstring>

namespace milehold::storage {

sqlite3* sqliteHandle(const QSqlDatabase& database) {
    const QVariant handle = database.driver()->handle();
    if (!handle.isValid() || std::strcmp(handle.typeName(), "sqlite3*") != 0)
        return nullptr;
    // Both are the system's library on Debian; a Qt with its own copy inside would not be.
    static const bool isSame = [&database] {
        QSqlQuery query(database);
        return query.exec(QStringLiteral("SELECT sqlite_source_id()")) && query.next() &&
               query.value(0).toString() == QLatin1String(sqlite3_sourceid());
    }();
    return isSame ? *static_cast<sqlite3* const*>(handle.data()) : nullptr;
}

} // namespace milehold::storage
