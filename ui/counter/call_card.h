// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/call_values.h"

#include <QWidget>

class QKeyEvent;
class QLabel;
class QLineEdit;
class QPushButton;
class QStackedWidget;

namespace milehold::ui {

class DateField;
class DistanceField;

/// One call: whom, on which number, what to ask, and the answer. A letter on a button or in the list logs an
/// outcome at once; in a field letters are typed.
///
/// An odometer that nobody told is estimated for "still quiet", and flagged as such. "Call later" asks for
/// the day first, a week from today unless another is typed; Enter logs it. What is typed stays until its
/// answer is stored.
class CallCard : public QWidget {
    Q_OBJECT
public:
    explicit CallCard(QWidget* parent = nullptr);

    void setUnit(core::DistanceUnit unit);
    /// From which day a week is counted. There is no clock in here.
    void setToday(core::Date today);
    /// Another job empties the fields, or fills them with what was typed before; the same one leaves them.
    void setCall(const CallToMake& call);
    CallTyped typed() const;
    /// No answer is taken while the last one is being stored.
    void setSending(bool sending);
    /// The answer is not stored yet, for the sake of this doubt; told once more it is sure.
    void askAgain(core::FollowUpOutcome outcome, const QString& doubt);
    /// The answer is stored: the fields are emptied even if the same call is shown again.
    void forget();
    void focusAnswer();
    /// True for a letter that logs an outcome; it is logged then, if it can be.
    bool takeKey(const QKeyEvent& event);

signals:
    void answered(const milehold::ui::CallAnswer& answer);
    void edited();
    void jobWanted(milehold::core::JobId job);
    void vehicleWanted(milehold::core::VehicleId vehicle);
    void left(); ///< Enter in a field: back to the list

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    void makeFields();
    void layOut();
    QWidget* makeLater();
    void log(core::FollowUpOutcome outcome);
    void send(CallAnswer answer);
    /// True when both distances can be read; else says which cannot.
    bool distancesAreRead();
    bool isAskingWhen() const;
    void askWhen(std::optional<core::Date> day);
    void leaveWhen();
    void logLater();
    void showWhen();
    void show(const CallTyped& typed);
    void showTexts();
    void complain(const QString& what, QLineEdit* field);

    CallToMake call_;
    core::DistanceUnit unit_ = core::DistanceUnit::Miles;
    core::Date today_{};
    bool sending_ = false;
    std::optional<core::FollowUpOutcome> doubted_;
    QLabel* who_;
    QLabel* phone_;
    QLabel* when_;
    QLabel* question_;
    QLabel* facts_;
    QLabel* reason_;
    QLabel* estimate_;
    QStackedWidget* under_; ///< the estimate, or the day to call again
    DateField* callOn_;
    QLabel* whenSaid_;
    QPushButton* logWhen_;
    DistanceField* odometer_;
    DistanceField* noiseSince_;
    QLineEdit* note_;
};

} // namespace milehold::ui
