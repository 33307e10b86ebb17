// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bay/job_section.h"

class QComboBox;
class QPlainTextEdit;

namespace milehold::ui {

/// Concern, cause and correction.
class ConcernSection : public JobSection {
    Q_OBJECT
public:
    explicit ConcernSection(QWidget* parent = nullptr);

    void setContext(const BayContext&) override {}
    void showJob(const core::Job& job) override;
    void readInto(core::Job& job) const override;

private:
    FormGrid* grid_;
    QComboBox* group_;
    QPlainTextEdit* concern_;
    QPlainTextEdit* cause_;
    QPlainTextEdit* correction_;
};

} // namespace milehold::ui
