// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/call_values.h"

#include <QWidget>

class QKeyEvent;
class QLabel;
class QLineEdit;

namespace milehold::ui {

class DistanceField;

/// One call: whom, on which number, what to ask, and the answer. A letter on a button or in the list logs an
/// outcome at once; in a field letters are typed.
///
/// An odometer that nobody told is estimated for "still quiet", and flagged as such. What is typed stays
/// until its answer is stored.
class CallCard : public QWidget {
    Q_OBJECT
public:
    explicit CallCard(QWidget* parent = nullptr);

    void setUnit(core::DistanceUnit unit);
    /// Another job empties the fields, or fills them with what was typed before; the same one leaves them.
    void setCall(const CallToMake& call);
    CallTyped typed() const;
    /// No answer is taken while the last one is being stored.
    void setSending(bool sending);
    bool isSending() const { return sending_; }
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
    void log(core::FollowUpOutcome outcome);
    void show(const CallTyped& typed);
    void showTexts();
    void complain(const QString& what, QLineEdit* field);

    CallToMake call_;
    core::DistanceUnit unit_ = core::DistanceUnit::Miles;
    bool sending_ = false;
    QLabel* who_;
    QLabel* phone_;
    QLabel* when_;
    QLabel* question_;
    QLabel* facts_;
    QLabel* reason_;
    QLabel* estimate_;
    DistanceField* odometer_;
    DistanceField* noiseSince_;
    QLineEdit* note_;
};

} // namespace milehold::ui
