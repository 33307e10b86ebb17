// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/record_form.h"

class QCheckBox;
class QLineEdit;

namespace milehold::ui {

/// Somebody who works in the shop.
class StaffForm : public RecordForm {
    Q_OBJECT
public:
    explicit StaffForm(QWidget* parent = nullptr);

protected:
    void fillChoices(const ShelfContents& contents) override;
    void load(const ShelfRecord& record) override;
    ShelfRecord typed(const ShelfRecord& loaded) const override;
    QWidget* firstField() const override;

private:
    QLineEdit* name_;
    QCheckBox* technician_;
    QCheckBox* advisor_;
    QCheckBox* owner_;
    QCheckBox* active_;
};

} // namespace milehold::ui
