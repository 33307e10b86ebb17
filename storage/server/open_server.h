// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/database/migrations.h"
#include "storage/shop_open.h"

#include <QSqlDatabase>

#include <cstdint>
#include <functional>
#include <string>

namespace milehold::storage {

/// Opens a shop on a server: connection with its checks, schema version, the shop's own row, whether this
/// user may write, and this station's drafts. Nothing on the server is changed. Errors: as Shop::open().
core::Result<OpenedShop> openOnServer(const std::string& address, std::function<core::Moment()> clock);

/// The version of the schema on a server; 0 when there is none of ours yet.
core::Result<std::int64_t> serverSchema(QSqlDatabase& database);

/// What keeps the drafts of an open shop: the shop itself, or this station.
inline Session& draftSession(OpenedShop& shop) {
    return shop.drafts != nullptr ? *shop.drafts : *shop.session;
}

} // namespace milehold::storage
