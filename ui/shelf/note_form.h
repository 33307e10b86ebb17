// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/record_form.h"

class QComboBox;
class QLineEdit;

namespace milehold::ui {

class FreshnessFields;
class IdCombo;
class TextField;

/// A dated note on something on the shelf.
class NoteForm : public RecordForm {
    Q_OBJECT
public:
    explicit NoteForm(QWidget* parent = nullptr);

protected:
    void fillChoices(const ShelfContents& contents) override;
    void load(const ShelfRecord& record) override;
    ShelfRecord typed(const ShelfRecord& loaded) const override;
    core::Findings unreadable() const override;
    QWidget* firstField() const override;

private:
    void fillSubjects();

    QComboBox* kind_;
    IdCombo* subject_;
    TextField* text_;
    QLineEdit* source_;
    FreshnessFields* freshness_;
};

} // namespace milehold::ui
