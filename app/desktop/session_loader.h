// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "app/desktop/session.h"

#include <QObject>

#include <optional>

namespace milehold::app {

/// Keeps a session in step with the shop: reads settings, shelf, people and lives when the shop was opened
/// and after every change.
class SessionLoader : public QObject {
    Q_OBJECT
public:
    SessionLoader(Database& database, Session& session, QObject* parent = nullptr);

    void load();

signals:
    void loaded();
    void failed(const milehold::core::Error& error);

private:
    Database& database_;
    Session& session_;
};

} // namespace milehold::app
