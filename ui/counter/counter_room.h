// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/counter_values.h"
#include "ui/counter/option_model.h"

#include <QWidget>

#include <memory>

class QComboBox;
class QLabel;
class QPushButton;
class QStackedWidget;
class QTimer;

namespace milehold::ui {

class CurveChart;
class EmptyState;
class OptionSheet;
class SearchBox;
class Segmented;
class VehiclePanel;

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
    const core::Quote* quote() const { return quote_.get(); }
    /// The path that the sentence speaks of; -1 without one.
    int chosenPath() const;
    void setBusy(bool busy);
    void setProblem(const QString& sentence);
    /// The chosen path's curve for paper.
    void paintChart(QPainter& painter, const QRectF& rect) const;
    void focusSearch();

signals:
    void searchWanted(const QString& text);
    void vehicleWanted(milehold::core::VehicleId id);
    void quoteWanted(); ///< query() changed
    void jobsWanted(const std::vector<milehold::core::JobId>& jobs, const QString& why);
    void openVehicleWanted(milehold::core::VehicleId id);
    void pageWanted(); ///< preview, print or save the page for the customer
    void said(const QString& what);

private:
    QWidget* makeLeft();
    QWidget* makeQuote();
    QWidget* makeSentence();
    QWidget* makeLower();
    void startAgain();
    void showPath();
    void showHorizons();
    void showNotes(const core::PathQuote& path);
    void openJobs(int column);
    void copySentence();

    CounterChoices choices_;
    std::shared_ptr<const core::Quote> quote_;
    std::int64_t horizon_ = 0;

    SearchBox* search_ = nullptr;
    VehiclePanel* vehicle_ = nullptr;
    QStackedWidget* pages_ = nullptr;
    EmptyState* empty_ = nullptr;
    QLabel* pathName_ = nullptr;
    QLabel* price_ = nullptr;
    QLabel* sentence_ = nullptr;
    QComboBox* horizonField_ = nullptr;
    QPushButton* copy_ = nullptr;
    QPushButton* why_ = nullptr;
    QPushButton* page_ = nullptr;
    Segmented* rows_ = nullptr;
    OptionSheet* sheet_ = nullptr;
    CurveChart* chart_ = nullptr;
    QLabel* notes_ = nullptr;
    QLabel* busy_ = nullptr;
    QTimer* busySoon_ = nullptr;
    bool filling_ = false;
};

} // namespace milehold::ui
