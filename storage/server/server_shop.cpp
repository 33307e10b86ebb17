// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/server/server_shop.h"

#include "storage/database/statement.h"
#include "storage/exchange/exchange_store.h"
#include "storage/server/change_listener.h"

namespace milehold::storage {

bool isOnServer(Shop& shop) {
    return shop.exchange().session().server().has_value();
}

core::Result<void> reachServer(Shop& shop) {
    Session& session = shop.exchange().session();
    if (auto connected = session.connect(); !connected)
        return connected;
    Statement ask(session, "SELECT 1", "look for the server");
    return ask.run();
}

core::Result<void> listenToStations(Shop& shop, std::function<void(const std::vector<ChangeNotice>&)> heard) {
    Session& session = shop.exchange().session();
    if (!session.server())
        return {};
    auto listener = std::make_shared<ChangeListener>(*session.server(), std::move(heard));
    session.setListener(listener);
    return listener->start();
}

} // namespace milehold::storage
