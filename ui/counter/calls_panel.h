// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/call_values.h"

#include <QDeadlineTimer>
#include <QWidget>

class QComboBox;
class QLabel;
class QListWidget;
class QPushButton;
class QStackedWidget;

namespace milehold::ui {

class CallCard;
class EmptyState;

/// Whom to call, the most worth a minute first; one key logs what the customer told. See CallCard.
class CallsPanel : public QWidget {
    Q_OBJECT
public:
    explicit CallsPanel(QWidget* parent = nullptr);

    void setUnit(core::DistanceUnit unit);
    void setToday(core::Date today);
    /// In order of rank; `all` is how many calls there are beyond those listed.
    void setCalls(std::vector<CallToMake> calls, std::size_t all);
    const std::vector<CallToMake>& calls() const { return calls_; }
    int currentCall() const;
    core::CallView view() const;
    void focusList();

    /// The answer is stored: its call leaves the list, and the first of the list is at hand.
    void answerKept(core::JobId job);
    /// It is not: what was typed stands as it was.
    void answerFailed();
    /// An answer of the call that is shown is doubted; told once more it is sure.
    void answerDoubted(core::FollowUpOutcome outcome, const QString& doubt);
    /// What stands in the fields of the current call.
    CallTyped typed() const;

signals:
    void answered(const milehold::ui::CallAnswer& answer);
    void typedInto(milehold::core::JobId job); ///< typed() changed
    void viewWanted(const milehold::core::CallView& view);
    void sheetWanted();
    void calendarWanted();
    void answersWanted(); ///< the answers that were logged, to take one back
    void jobWanted(milehold::core::JobId job);
    void vehicleWanted(milehold::core::VehicleId vehicle);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    QWidget* makeBar();
    void fillList();
    void showCall();

    std::vector<CallToMake> calls_;
    std::size_t all_ = 0;
    QDeadlineTimer fromTop_; ///< while it runs, a list that is ranked anew is begun at its top
    core::DistanceUnit unit_ = core::DistanceUnit::Miles;
    QComboBox* show_ = nullptr;
    QComboBox* order_ = nullptr;
    QPushButton* sheet_ = nullptr;
    QPushButton* calendar_ = nullptr;
    QPushButton* answers_ = nullptr;
    QListWidget* list_ = nullptr;
    QLabel* count_ = nullptr;
    QStackedWidget* pages_ = nullptr;
    CallCard* card_ = nullptr;
    EmptyState* empty_ = nullptr;
};

} // namespace milehold::ui
