// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

class QSqlDatabase;
struct sqlite3;

namespace milehold::storage {

/// SQLite's own handle of a Qt connection; null when Qt's driver carries another SQLite than the one linked
/// here, whose structures we then must not touch.
sqlite3* sqliteHandle(const QSqlDatabase& database);

} // namespace milehold::storage
