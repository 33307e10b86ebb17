// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/form_grid.h"

#include "ui/theme/theme.h"
#include "ui/widgets/findings.h"
#include "ui/widgets/section_title.h"
#include "ui/widgets/text.h"

#include <QGridLayout>
#include <QLabel>
#include <QPlainTextEdit>
#include <QTextEdit>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {

namespace {

/// `parts[2].number` -> `parts`.
QString rootOf(const QString& name) {
    const qsizetype bracket = name.indexOf(u'[');
    const qsizetype dot = name.indexOf(u'.');
    const qsizetype cut = bracket < 0 ? dot : dot < 0 ? bracket : std::min(bracket, dot);
    return cut < 0 ? name : name.left(cut);
}

} // namespace

FormGrid::FormGrid(int columns, QWidget* parent)
    : QWidget(parent), grid_(new QGridLayout(this)), columns_(std::max(1, columns)) {
    grid_->setContentsMargins(0, 0, 0, 0);
    grid_->setHorizontalSpacing(kGap);
    grid_->setVerticalSpacing(12);
    for (int i = 0; i < columns_; ++i)
        grid_->setColumnStretch(i, 1);
}

QLabel* FormGrid::addField(const QString& text, QWidget* field, const QString& name, int span) {
    span = span <= 0 ? columns_ : std::min(span, columns_);
    if (column_ + span > columns_)
        endRow();
    auto* box = new QWidget(this);
    auto* stack = new QVBoxLayout(box);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->setSpacing(kHalf);
    auto* label = new QLabel(text, box);
    theme::setText(label, TextRole::Small, true);
    label->setBuddy(field);
    stack->addWidget(label);
    stack->addWidget(field);
    auto* finding = new InlineFinding(box);
    stack->addWidget(finding);
    stack->addStretch(1);
    field->setObjectName(name);
    if (auto* edit = qobject_cast<QTextEdit*>(field))
        edit->setTabChangesFocus(true);
    if (auto* edit = qobject_cast<QPlainTextEdit*>(field))
        edit->setTabChangesFocus(true);
    QString spoken = text;
    field->setAccessibleName(spoken.remove(u'&'));
    grid_->addWidget(box, row_, column_, 1, span, Qt::Alignment());
    cells_.insert(name, {label, field, finding});
    column_ += span;
    if (column_ >= columns_)
        endRow();
    return label;
}

void FormGrid::addSection(const QString& title) {
    addWide(new SectionTitle(title, this));
}

void FormGrid::addWide(QWidget* widget) {
    endRow();
    grid_->addWidget(widget, row_, 0, 1, columns_);
    ++row_;
}

void FormGrid::endRow() {
    if (column_ == 0)
        return;
    ++row_;
    column_ = 0;
}

core::Findings FormGrid::setFindings(const core::Findings& findings) {
    QHash<QString, core::Findings> byCell;
    core::Findings rest;
    for (const core::Finding& finding : findings) {
        const QString name = toText(finding.field);
        const QString place = cells_.contains(name) ? name : rootOf(name);
        if (cells_.contains(place)) {
            byCell[place].push_back(finding);
        } else {
            rest.push_back(finding);
        }
    }
    for (auto cell = cells_.cbegin(); cell != cells_.cend(); ++cell) {
        const core::Findings own = byCell.value(cell.key());
        cell->finding->setFindings(own);
        FieldState state = FieldState::Plain;
        for (const core::Finding& finding : own) {
            if (finding.severity == core::Severity::Error)
                state = FieldState::Error;
            if (finding.severity == core::Severity::Warning && state == FieldState::Plain)
                state = FieldState::Warning;
        }
        theme::setFieldState(cell->field, state);
        cell->field->setAccessibleDescription(own.empty() ? QString() : cell->finding->text());
    }
    return rest;
}

bool FormGrid::focusField(const QString& name) {
    const auto cell = cells_.constFind(cells_.contains(name) ? name : rootOf(name));
    if (cell == cells_.cend())
        return false;
    cell->field->setFocus(Qt::ShortcutFocusReason);
    return true;
}

QWidget* FormGrid::field(const QString& name) const {
    return cells_.value(name).field;
}
QLabel* FormGrid::labelOf(const QString& name) const {
    return cells_.value(name).label;
}

} // namespace milehold::ui
