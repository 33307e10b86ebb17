// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/counter_values.h"
#include "ui/counter/option_model.h"

#include <QWidget>

#include <memory>

class QCheckBox;
class QLabel;
class QStackedWidget;
class QVBoxLayout;

namespace milehold::ui {

class AnswerCard;
class BusyLabel;
class CurveChart;
class EmptyState;
class OptionSheet;
class SearchBox;
class Segmented;
class VehiclePanel;

/// The quote's half of the Counter: the vehicle on the left; on the right the answer, the paths side by side,
/// the curve and how complete the evidence is. Shows a core::Quote and computes nothing.
class QuoteSide : public QWidget {
    Q_OBJECT
public:
    /// `head` stands over the vehicle: the choice between the quote and the calls.
    explicit QuoteSide(QWidget* head, QWidget* parent = nullptr);

    void setChoices(const CounterChoices& choices);
    void setFound(const QString& text, const std::vector<VehicleFound>& found);
    void setVehicle(const CounterVehicle& vehicle);
    CounterVehicle vehicle() const;
    std::optional<CounterQuery> query() const;
    void setQuote(std::shared_ptr<const core::Quote> quote);
    const core::Quote* quote() const { return quote_.get(); }
    int chosenPath() const;
    void setBusy(bool busy);
    void setProblem(const QString& sentence);
    void focusSearch();

signals:
    void searchWanted(const QString& text);
    void vehicleWanted(milehold::core::VehicleId id);
    void quoteWanted();
    void jobsWanted(const std::vector<milehold::core::JobId>& jobs, const QString& why);
    void openVehicleWanted(milehold::core::VehicleId id);
    void pageWanted();
    void quoteGiven();
    void said(const QString& what);

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    QWidget* makeLeft(QWidget* head);
    QWidget* makeQuote();
    QWidget* makeNotes();
    void connectLeft();
    void connectQuote();
    void startAgain();
    void showRowChoices();
    void showPath();
    void showCurve(const core::PathQuote& path);
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
    AnswerCard* answer_ = nullptr;
    Segmented* rows_ = nullptr;
    OptionSheet* sheet_ = nullptr;
    QCheckBox* project_ = nullptr;
    CurveChart* chart_ = nullptr;
    QLabel* evidence_ = nullptr;
    QLabel* notes_ = nullptr;
    BusyLabel* busy_ = nullptr;
};

} // namespace milehold::ui
