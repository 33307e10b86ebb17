// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bay/job_section.h"

class QLabel;
class QPlainTextEdit;

namespace milehold::ui {

class DecimalField;
class DistanceField;
class HoursField;
class MoneyField;

/// Work lines, hours, money and warranty.
class WorkSection : public JobSection {
    Q_OBJECT
public:
    explicit WorkSection(QWidget* parent = nullptr);

    void setContext(const BayContext& context) override;
    void showJob(const core::Job& job) override;
    void readInto(core::Job& job) const override;

private:
    void showTotal();

    std::string currency_ = "USD";
    FormGrid* grid_;
    QPlainTextEdit* lines_;
    HoursField* hours_;
    MoneyField* parts_;
    MoneyField* labour_;
    MoneyField* sublet_;
    MoneyField* tax_;
    MoneyField* discount_;
    QLabel* total_;
    DecimalField* warrantyMonths_;
    DistanceField* warrantyDistance_;
};

} // namespace milehold::ui
