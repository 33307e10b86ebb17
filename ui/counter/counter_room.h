// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/counter_values.h"

#include <QWidget>

#include <memory>

class QStackedWidget;

namespace milehold::ui {

class CallsPanel;
class QuoteSide;
class Segmented;

/// The advisor's room: one honest sentence on how long a repair will last for this vehicle, every applicable
/// path side by side, and the page for the customer. Shows a core::Quote and computes nothing.
class CounterRoom : public QWidget {
    Q_OBJECT
public:
    explicit CounterRoom(QWidget* parent = nullptr);

    void setChoices(const CounterChoices& choices);
    void setFound(const QString& text, const std::vector<VehicleFound>& found);
    /// A vehicle of the records, or an empty one to start again.
    void setVehicle(const CounterVehicle& vehicle);
    CounterVehicle vehicle() const;
    /// What is asked to be quoted now; empty while there is no engine family.
    std::optional<CounterQuery> query() const;
    void setQuote(std::shared_ptr<const core::Quote> quote);
    const core::Quote* quote() const;
    /// The path that the sentence speaks of; -1 without one.
    int chosenPath() const;
    void setBusy(bool busy);
    void setProblem(const QString& sentence);
    void focusSearch();

    CallsPanel* calls() const { return calls_; }
    /// The calls to make instead of the quote, or back.
    void showCalls(bool calls);
    bool showsCalls() const;

signals:
    void searchWanted(const QString& text);
    void vehicleWanted(milehold::core::VehicleId id);
    void quoteWanted(); ///< query() changed
    void jobsWanted(const std::vector<milehold::core::JobId>& jobs, const QString& why);
    void openVehicleWanted(milehold::core::VehicleId id);
    void pageWanted(); ///< preview, print or save the page for the customer
    void quoteGiven(); ///< the chosen path's figure was told to the customer: keep it with the vehicle
    void said(const QString& what);

private:
    Segmented* makeSwitch(QWidget* parent);
    QWidget* makeCallsPage();

    std::vector<Segmented*> switches_; ///< one a page, always alike
    QStackedWidget* sides_ = nullptr;
    QuoteSide* side_ = nullptr;
    CallsPanel* calls_ = nullptr;
};

} // namespace milehold::ui
