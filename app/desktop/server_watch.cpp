// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/server_watch.h"

#include "storage/server/server_shop.h"

#include <QPointer>

namespace milehold::app {

namespace {

constexpr int kLookEvery = 2000; // ms

} // namespace

ServerWatch::ServerWatch(Database& database, QObject* parent) : QObject(parent), database_(database) {
    timer_.setInterval(kLookEvery);
    connect(&timer_, &QTimer::timeout, this, &ServerWatch::look);
    begin();
}

void ServerWatch::begin() {
    database_.ask(
        this,
        [database = QPointer<Database>(&database_)](storage::Shop& shop) -> core::Result<bool> {
            if (!storage::isOnServer(shop))
                return false;
            // Told on the database's thread; everything that shows records listens to the window's.
            static_cast<void>(storage::listenToStations(shop, [database](const auto&) {
                if (database)
                    QMetaObject::invokeMethod(database.data(), &Database::announceChange,
                                              Qt::QueuedConnection);
            }));
            return true;
        },
        [this](const core::Result<bool>& onServer) {
            if (onServer && *onServer)
                timer_.start();
        });
}

void ServerWatch::look() {
    if (asking_)
        return;
    asking_ = true;
    database_.ask(
        this, [](storage::Shop& shop) { return storage::reachServer(shop); },
        [this](const core::Result<void>& outcome) {
            asking_ = false;
            if (outcome.has_value() == reachable_)
                return;
            reachable_ = outcome.has_value();
            emit reachable(reachable_);
            if (reachable_)
                database_.announceChange(); // what was saved elsewhere meanwhile
        });
}

} // namespace milehold::app
