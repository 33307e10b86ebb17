// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "app/desktop/session.h"
#include "ui/counter/counter_room.h"

#include <QObject>

namespace milehold::ui {
class QuotePageDialog;
}

namespace milehold::app {

/// Joins the Counter with the records: finds vehicles, works quotes out on worker threads, opens the
/// customer's page.
class CounterController : public QObject {
    Q_OBJECT
public:
    CounterController(ui::CounterRoom& room, Database& database, Session& session, QObject* parent = nullptr);

    /// Puts a vehicle of the records on the counter.
    void quoteVehicle(core::VehicleId id);
    /// The page for the customer, shown without blocking; null while there is no quote.
    ui::QuotePageDialog* openPage();

signals:
    void showJobs(const std::vector<milehold::core::JobId>& jobs, const QString& why);
    void openVehicle(milehold::core::VehicleId id);
    void said(const QString& what);

private:
    void showChoices();
    void search(const QString& text);
    void refresh();
    /// Keeps what was told of a path with the vehicle, to be compared with what happens.
    void keepQuote(const core::Quote& quote, int path, std::optional<core::VehicleId> vehicle);

    ui::CounterRoom& room_;
    Database& database_;
    Session& session_;
    int newest_ = 0;
};

} // namespace milehold::app
