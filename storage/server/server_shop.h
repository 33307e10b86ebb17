// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/shop.h"

#include <functional>
#include <vector>

namespace milehold::storage {

/// A shop on a server is opened by Shop::open() with its address, postgresql://user@host:port/database, in
/// the place of the folder's name. Its schema must be this program's; it is never changed there (see
/// setUpServer()). Backups are the server's own; drafts stay at this station.

bool isOnServer(Shop& shop);

/// Whether the shop's records can be reached now; asks the server, and connects anew where the connection was
/// lost. Errors: those of opening, Offline above all.
core::Result<void> reachServer(Shop& shop);

/// Hears what any station saves, on the shop's thread, whose event loop must run: the records that commits
/// changed; none named means that anything may have changed (also after each new connection). Nothing for a
/// folder, where nobody else writes. Losses of the connection are mended by itself. Errors: those of opening.
core::Result<void> listenToStations(Shop& shop, std::function<void(const std::vector<ChangeNotice>&)> heard);

} // namespace milehold::storage
