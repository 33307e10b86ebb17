// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/session_loader.h"

#include "storage/shop.h"

namespace milehold::app {

namespace {

struct Snapshot {
    core::ShopSettings settings;
    core::Shelf shelf;
    std::vector<core::Staff> staff;
    std::vector<core::LifeRecord> lives;
};

core::Result<Snapshot> read(storage::Shop& shop, core::Date today) {
    auto settings = shop.settings();
    if (!settings)
        return core::failureOf(settings);
    auto shelf = shop.shelf().load();
    if (!shelf)
        return core::failureOf(shelf);
    auto staff = shop.staff().list();
    if (!staff)
        return core::failureOf(staff);
    auto lives = shop.lives().records(today);
    if (!lives)
        return core::failureOf(lives);
    return Snapshot{std::move(*settings), std::move(*shelf), std::move(*staff), std::move(*lives)};
}

} // namespace

SessionLoader::SessionLoader(Database& database, Session& session, QObject* parent)
    : QObject(parent), database_(database), session_(session) {
    connect(&database_, &Database::changed, this, &SessionLoader::load);
}

void SessionLoader::load() {
    database_.askNewest(
        QStringLiteral("session"), this,
        [today = session_.today()](storage::Shop& shop) { return read(shop, today); },
        [this](core::Result<Snapshot> snapshot) {
            if (!snapshot) {
                emit failed(snapshot.error());
                return;
            }
            // Only what differs is handed out, so that a save in the Bay does not rebuild the Shelf.
            if (snapshot->settings != session_.settings())
                session_.setSettings(snapshot->settings);
            if (snapshot->shelf != *session_.shelf())
                session_.setShelf(std::move(snapshot->shelf));
            if (snapshot->staff != session_.staff())
                session_.setStaff(std::move(snapshot->staff));
            session_.setLives(std::move(snapshot->lives));
            emit loaded();
        });
}

} // namespace milehold::app
