// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"

#include <QDialog>

#include <string>
#include <vector>

class QLabel;
class QPushButton;

namespace milehold::ui {

class ReasonRow;
class RecordTable;

/// An answer as it was logged, with the people and the vehicle behind it.
struct LoggedAnswer {
    core::FollowUp told;
    std::int64_t jobNumber = 0;
    std::string customer;
    std::string vehicle;
    std::string by; ///< who logged it; may be blank
};

/// The answers that were logged last, newest first. One that was logged by mistake is voided with a reason:
/// it stays in the list and drops out of every figure, until it is counted again. Enter opens its job.
class AnswersDialog : public QDialog {
    Q_OBJECT
public:
    explicit AnswersDialog(core::DistanceUnit unit, QWidget* parent = nullptr);

    /// The same answer stays chosen.
    void setAnswers(std::vector<LoggedAnswer> answers);
    const std::vector<LoggedAnswer>& answers() const { return answers_; }

signals:
    void voidWanted(milehold::core::FollowUpId id, qint64 revision, const QString& reason);
    void countAgainWanted(milehold::core::FollowUpId id, qint64 revision);
    void jobWanted(milehold::core::JobId job);

private:
    const LoggedAnswer* chosen() const;
    void showChosen();
    void turn();

    std::vector<LoggedAnswer> answers_;
    core::DistanceUnit unit_;
    RecordTable* table_;
    QLabel* note_;
    ReasonRow* reason_;
    QPushButton* void_;
    QPushButton* job_;
};

/// `Call later: on 05/23/2031`: the outcome with what belongs to it.
QString answerText(const core::FollowUp& told, core::DistanceUnit unit);

} // namespace milehold::ui
