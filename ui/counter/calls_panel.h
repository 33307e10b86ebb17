// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/call_values.h"

#include <QWidget>

class QLabel;
class QLineEdit;
class QListWidget;
class QPushButton;
class QStackedWidget;

namespace milehold::ui {

class DistanceField;

/// Whom to call, the most worth a minute first; one key logs what the customer told.
///
/// In the list and on the buttons a letter logs an outcome at once; in a field letters are typed, and Enter
/// goes back to the list. An odometer that was not told is estimated for "still quiet", and flagged as such.
class CallsPanel : public QWidget {
    Q_OBJECT
public:
    explicit CallsPanel(QWidget* parent = nullptr);

    void setUnit(core::DistanceUnit unit);
    /// In order of rank; `all` is how many calls there are beyond those listed.
    void setCalls(std::vector<CallToMake> calls, std::size_t all);
    const std::vector<CallToMake>& calls() const { return calls_; }
    int currentCall() const;
    void focusList();

signals:
    void answered(const milehold::ui::CallAnswer& answer);
    void jobWanted(milehold::core::JobId job);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    QWidget* makeCard();
    void showCall();
    void log(core::FollowUpOutcome outcome);

    std::vector<CallToMake> calls_;
    core::DistanceUnit unit_ = core::DistanceUnit::Miles;
    QListWidget* list_ = nullptr;
    QLabel* count_ = nullptr;
    QStackedWidget* pages_ = nullptr;
    QLabel* who_ = nullptr;
    QLabel* phone_ = nullptr;
    QLabel* when_ = nullptr;
    QLabel* question_ = nullptr;
    QLabel* facts_ = nullptr;
    QLabel* reason_ = nullptr;
    DistanceField* odometer_ = nullptr;
    QLabel* estimate_ = nullptr;
    DistanceField* noiseSince_ = nullptr;
    QLineEdit* note_ = nullptr;
    QPushButton* job_ = nullptr;
};

} // namespace milehold::ui
