// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/server/server_address.h"

#include <QSqlDatabase>

#include <string_view>

namespace milehold::storage {

/// Opens a connection with every setting that a shop relies on, each read back: short waits for a network
/// that went away, times after which the server gives up, our schema alone in the search path, TLS unless
/// both ends are this machine. The password comes from where libpq looks for it. `purpose` is shown to the
/// server's keeper. Errors: Offline (nobody answers), ReadOnly (not let in),
/// NotFound (no such database), Unsupported (an older server, no TLS, another character set), Internal (a
/// setting did not hold, or the driver is not installed).
core::Result<QSqlDatabase> openPostgresql(const ServerAddress& address, std::string_view purpose);

/// Closes a connection and forgets its name.
void closeConnection(QSqlDatabase& database);

} // namespace milehold::storage
