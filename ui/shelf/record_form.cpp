// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/record_form.h"

#include "ui/widgets/date_field.h"
#include "ui/widgets/form_grid.h"
#include "ui/widgets/text.h"
#include "ui/widgets/unit_field.h"

#include <QVBoxLayout>

namespace milehold::ui {

namespace {
constexpr int kWidest = 800; ///< longer lines are no easier to read

/// The fields whose text may be no value: each has an object name of its own in its form.
QList<QLineEdit*> figureFields(const QWidget* form) {
    QList<QLineEdit*> fields;
    for (UnitField* field : form->findChildren<UnitField*>())
        if (!field->objectName().isEmpty())
            fields << field;
    for (DateField* field : form->findChildren<DateField*>())
        if (!field->objectName().isEmpty())
            fields << field;
    return fields;
}
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

void RecordForm::setTyped(const ShelfRecord& record, const std::map<std::string, std::string>& unfinished) {
    loading_ = true;
    load(record);
    for (QLineEdit* field : figureFields(this)) {
        const auto text = unfinished.find(toUtf8(field->objectName()));
        if (text != unfinished.end() && text->second != toUtf8(field->text()))
            field->setText(toText(text->second));
    }
    loading_ = false;
    refresh();
}

std::map<std::string, std::string> RecordForm::unfinished() const {
    std::map<std::string, std::string> texts;
    if (unreadable().empty())
        return texts;
    for (const QLineEdit* field : figureFields(this))
        texts[toUtf8(field->objectName())] = toUtf8(field->text());
    return texts;
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
