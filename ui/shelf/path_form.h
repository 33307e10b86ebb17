// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/record_form.h"

class QCheckBox;
class QLineEdit;

namespace milehold::ui {

class AppliesEditor;
class FreshnessFields;
class HoursField;
class IdCombo;
class MoneyField;
class PathPartsEditor;
class TextField;

/// A repair path: all that it fills into a job, where it may be used, and what to beware of.
class PathForm : public RecordForm {
    Q_OBJECT
public:
    explicit PathForm(QWidget* parent = nullptr);

protected:
    void fillChoices(const ShelfContents& contents) override;
    void load(const ShelfRecord& record) override;
    ShelfRecord typed(const ShelfRecord& loaded) const override;
    core::Findings unreadable() const override;
    QWidget* firstField() const override;
    void refresh() override;

private:
    QLineEdit* name_;
    QCheckBox* active_;
    MoneyField* price_;
    HoursField* hours_;
    IdCombo* calibration_;
    AppliesEditor* applies_;
    TextField* lines_;
    PathPartsEditor* parts_;
    TextField* replaceOnce_;
    TextField* cautions_;
    FreshnessFields* freshness_;
};

} // namespace milehold::ui
