// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bay/pickers.h"

class QLineEdit;
class QPushButton;

namespace milehold::ui {

class DateField;
class DistanceField;
class InlineFinding;

/// Odometers, days and people of a job.
class ArrivalSection : public JobSection {
    Q_OBJECT
public:
    explicit ArrivalSection(QWidget* parent = nullptr);

    void setContext(const BayContext& context) override;
    void showJob(const core::Job& job) override;
    void readInto(core::Job& job) const override;

    /// Which fields the kind of job needs, and whether the vehicle has left. A job that is finished only now
    /// gets today as its day; one taken back into work keeps the day in mind.
    void setStage(core::JobKind kind, bool finished);
    core::Findings setFindings(const core::Findings& findings) override;

signals:
    /// The odometer contradicts the record, and the person says why.
    void instrumentReplaced();

private:
    void fillOdometerOut();
    void setCellVisible(QWidget* field, bool visible);

    FormGrid* grid_;
    InlineFinding* odometerFinding_;
    QPushButton* replaced_;
    DistanceField* odometerIn_;
    DistanceField* odometerOut_;
    DistanceField* firstSeen_;
    DateField* writtenUp_;
    DateField* started_;
    DateField* delivered_;
    RecordBox<core::StaffId>* technician_;
    RecordBox<core::StaffId>* advisor_;
    QLineEdit* repairOrder_;
    core::Date today_{};
    bool finished_ = true;
};

} // namespace milehold::ui
