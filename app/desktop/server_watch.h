// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"

#include <QObject>
#include <QTimer>

namespace milehold::app {

/// Watches over an open shop on a server: hears what other stations save, and looks every two seconds whether
/// the server answers. With the network's patience of five seconds an outage is told within seven. Nothing
/// for a folder.
class ServerWatch : public QObject {
    Q_OBJECT
public:
    explicit ServerWatch(Database& database, QObject* parent = nullptr);

signals:
    /// The server no longer answers, or does again; the lists are then read anew.
    void reachable(bool answers);

private:
    void begin();
    void look();

    Database& database_;
    QTimer timer_;
    bool asking_ = false;
    bool reachable_ = true;
};

} // namespace milehold::app
