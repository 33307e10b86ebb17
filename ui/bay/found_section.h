// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bay/job_section.h"

class QComboBox;
class QLabel;
class QLineEdit;

namespace milehold::ui {

class DecimalField;

/// What was found before the work, and the software level before and after: cold start, oil, trouble codes,
/// calibrations.
class FoundSection : public JobSection {
    Q_OBJECT
public:
    explicit FoundSection(QWidget* parent = nullptr);

    void setContext(const BayContext& context) override;
    void setVehicle(const core::Vehicle& vehicle) override;
    void showJob(const core::Job& job) override;
    void readInto(core::Job& job) const override;
    core::Findings setFindings(const core::Findings& findings) override;

private:
    std::vector<core::JobCode> codes() const;
    void fillCalibrations();
    void explainCodes();
    void showPressure(std::optional<int> kpa);
    std::optional<int> pressure() const;

    BayContext context_;
    core::Vehicle vehicle_;
    FormGrid* grid_;
    DecimalField* soak_;
    DecimalField* rattle_;
    QComboBox* oilLevel_;
    QComboBox* oilCondition_;
    QLineEdit* oilGrade_;
    DecimalField* oilPressure_;
    QLineEdit* codesBefore_;
    QLineEdit* codesAfter_;
    QLabel* meanings_;
    QComboBox* calibrationBefore_;
    QComboBox* calibrationAfter_;
};

} // namespace milehold::ui
