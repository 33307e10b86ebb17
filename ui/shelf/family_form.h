// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/record_form.h"

class QLineEdit;

namespace milehold::ui {

class EnginePlan;
class Segmented;
class TextField;

/// An engine family: its name, and its layout edited on the drawn plan. A chosen tile is a cam with a phaser.
class FamilyForm : public RecordForm {
    Q_OBJECT
public:
    explicit FamilyForm(QWidget* parent = nullptr);

protected:
    void fillChoices(const ShelfContents& contents) override;
    void load(const ShelfRecord& record) override;
    ShelfRecord typed(const ShelfRecord& loaded) const override;
    QWidget* firstField() const override;

private:
    void layPlan();

    QLineEdit* name_;
    Segmented* banks_;
    Segmented* cams_;
    EnginePlan* plan_;
    TextField* note_;
    std::vector<core::Position> loadedPositions_;
};

} // namespace milehold::ui
