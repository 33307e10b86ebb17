// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/record_form.h"

#include "ui/widgets/form_grid.h"

#include <QVBoxLayout>

namespace milehold::ui {

namespace {
constexpr int kWidest = 800; ///< longer lines are no easier to read
} // namespace

RecordForm::RecordForm(int columns, QWidget* parent)
    : QWidget(parent), grid_(new FormGrid(columns, this)), stack_(new QVBoxLayout(this)) {
    stack_->setContentsMargins(0, 0, 0, 0);
    stack_->setSpacing(16);
    setMaximumWidth(kWidest);
    stack_->addWidget(grid_);
}

void RecordForm::setContents(const ShelfContents& contents) {
    contents_ = contents;
    loading_ = true;
    fillChoices(contents_);
    loading_ = false;
    if (hasRecord_)
        refresh();
}

void RecordForm::setRecord(const ShelfRecord& record) {
    loaded_ = record;
    hasRecord_ = true;
    loading_ = true;
    load(record);
    loading_ = false;
    refresh();
}

void RecordForm::setTyped(const ShelfRecord& record) {
    loading_ = true;
    load(record);
    loading_ = false;
    refresh();
}

ShelfRecord RecordForm::record() const {
    return typed(loaded_);
}

core::Findings RecordForm::showFindings() {
    core::Findings findings = unreadable();
    for (core::Finding& finding : check(record(), contents_))
        findings.push_back(std::move(finding));
    grid_->setFindings(findings);
    return findings;
}

void RecordForm::clearFindings() {
    grid_->setFindings({});
}

void RecordForm::focusField(const QString& name) {
    if (name.isEmpty() || !grid_->focusField(name))
        firstField()->setFocus(Qt::ShortcutFocusReason);
}

void RecordForm::touched() {
    if (loading_)
        return;
    refresh();
    emit edited();
}

} // namespace milehold::ui
