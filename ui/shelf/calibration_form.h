// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/record_form.h"

class QLabel;
class QLineEdit;

namespace milehold::ui {

class ChainView;
class DateField;
class FreshnessFields;
class IdCombo;
class WholeField;

/// A calibration with what it applies to, its succession drawn above it.
class CalibrationForm : public RecordForm {
    Q_OBJECT
public:
    explicit CalibrationForm(QWidget* parent = nullptr);

protected:
    void fillChoices(const ShelfContents& contents) override;
    void load(const ShelfRecord& record) override;
    ShelfRecord typed(const ShelfRecord& loaded) const override;
    core::Findings unreadable() const override;
    QWidget* firstField() const override;
    void refresh() override;

private:
    ChainView* chain_;
    QLabel* usedBy_;
    QLineEdit* code_;
    QLineEdit* module_;
    IdCombo* family_;
    WholeField* from_;
    WholeField* to_;
    IdCombo* supersedes_;
    DateField* released_;
    FreshnessFields* freshness_;
};

} // namespace milehold::ui
