// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/record_form.h"

class QCheckBox;
class QLineEdit;

namespace milehold::ui {

class DistanceField;
class Segmented;
class TextField;
class WholeField;

/// The shop's own row: name, units, currency, warranty and the rules of evidence.
class SettingsForm : public RecordForm {
    Q_OBJECT
public:
    explicit SettingsForm(QWidget* parent = nullptr);

protected:
    void fillChoices(const ShelfContents& contents) override;
    void load(const ShelfRecord& record) override;
    ShelfRecord typed(const ShelfRecord& loaded) const override;
    core::Findings unreadable() const override;
    QWidget* firstField() const override;

private:
    QLineEdit* name_;
    Segmented* unit_;
    QLineEdit* currency_;
    QLineEdit* locale_;
    WholeField* warrantyMonths_;
    DistanceField* warrantyDistance_;
    TextField* terms_;
    DistanceField* yearly_;
    WholeField* lostAfter_;
    QCheckBox* quietVisit_;
};

} // namespace milehold::ui
