// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "core/shop/id.h"

#include <QObject>

namespace milehold::ui {
class SearchBox;
}

namespace milehold::app {

/// The one search box: last eight of a VIN, plate, customer, phone or repair order, looked up while one
/// types.
class SearchController : public QObject {
    Q_OBJECT
public:
    SearchController(ui::SearchBox& box, Database& database, QObject* parent = nullptr);

signals:
    void vehicleChosen(milehold::core::VehicleId id);
    /// Return on what nothing was found for: a scanned VIN or a plate that is new here.
    void unknownTyped(const QString& text);
    void failed(const milehold::core::Error& error);

private:
    void look(const QString& text);
    void submit(const QString& text);

    ui::SearchBox& box_;
    Database& database_;
};

} // namespace milehold::app
