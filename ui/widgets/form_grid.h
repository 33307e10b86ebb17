// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/finding.h"

#include <QHash>
#include <QWidget>

class QGridLayout;
class QLabel;

namespace milehold::ui {

class InlineFinding;

/// A form in columns: each cell is a label, its field and what validation found about it. Every label is the
/// buddy of its field (`&Odometer`), every field gets its name as objectName.
class FormGrid : public QWidget {
    Q_OBJECT
public:
    explicit FormGrid(int columns = 1, QWidget* parent = nullptr);

    /// Adds a cell in the next free place. `name` is the finding's field, e.g. `odometerOut`.
    /// `span` columns wide, at most the form's; 0 means all of them. The form owns the field.
    QLabel* addField(const QString& label, QWidget* field, const QString& name, int span = 1);
    /// A heading over the rows that follow.
    void addSection(const QString& title);
    /// Anything across all columns, without a label.
    void addWide(QWidget* widget);
    /// Leaves the rest of this row free.
    void endRow();

    /// Shows each finding at its field; `parts[2].number` goes to a field of that name, else to `parts`.
    /// Returns those that no field of this form shows.
    core::Findings setFindings(const core::Findings& findings);
    /// Puts the keyboard into the named field; false when this form has none.
    bool focusField(const QString& name);
    QWidget* field(const QString& name) const;
    QLabel* labelOf(const QString& name) const;

private:
    struct Cell {
        QLabel* label = nullptr;
        QWidget* field = nullptr;
        InlineFinding* finding = nullptr;
    };

    QGridLayout* grid_;
    int columns_;
    int row_ = 0;
    int column_ = 0;
    QHash<QString, Cell> cells_;
};

} // namespace milehold::ui
