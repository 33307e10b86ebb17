// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/record_form.h"

class QComboBox;
class QLabel;
class QLineEdit;

namespace milehold::ui {

class ChainView;
class DateField;
class FreshnessFields;
class IdCombo;
class WholeField;

/// A part number at one revision, with its chain of supersession drawn above it.
class PartForm : public RecordForm {
    Q_OBJECT
public:
    explicit PartForm(QWidget* parent = nullptr);

protected:
    void fillChoices(const ShelfContents& contents) override;
    void load(const ShelfRecord& record) override;
    ShelfRecord typed(const ShelfRecord& loaded) const override;
    core::Findings unreadable() const override;
    QWidget* firstField() const override;
    void refresh() override;

private:
    ChainView* chain_;
    QLabel* fittedBy_;
    QLineEdit* number_;
    QLineEdit* revision_;
    QComboBox* component_;
    QLineEdit* supplier_;
    QLineEdit* whatChanged_;
    DateField* introduced_;
    WholeField* claim_;
    IdCombo* successor_;
    FreshnessFields* freshness_;
};

} // namespace milehold::ui
