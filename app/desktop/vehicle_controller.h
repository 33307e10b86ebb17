// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "app/desktop/session.h"
#include "core/shop/id.h"

#include <QObject>
#include <QPointer>
#include <QString>

class QWidget;

namespace milehold::ui {
class VehiclePage;
}

namespace milehold::app {

/// Reads a vehicle's record and shows its page over the window.
class VehicleController : public QObject {
    Q_OBJECT
public:
    VehicleController(QWidget& window, Database& database, Session& session, QObject* parent = nullptr);

    /// Shows the vehicle's page without blocking; another one that is open is closed.
    void open(core::VehicleId vehicle);
    ui::VehiclePage* page() const;

signals:
    void jobWanted(milehold::core::JobId job);
    void newJobWanted(milehold::core::VehicleId vehicle);
    void quoteWanted(milehold::core::VehicleId vehicle);
    void fileWanted(milehold::core::AttachmentId file);
    void said(const QString& what);

private:
    void changeCall(core::VehicleId vehicle, core::FollowUpId call, std::int64_t revision,
                    const QString& voidReason);

    QWidget& window_;
    Database& database_;
    Session& session_;
    QPointer<ui::VehiclePage> page_;
};

} // namespace milehold::app
