// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/staff_form.h"

#include "ui/shelf/choices.h"
#include "ui/theme/tokens.h"
#include "ui/widgets/form_grid.h"

#include <QCheckBox>
#include <QLineEdit>
#include <QVBoxLayout>

namespace milehold::ui {

StaffForm::StaffForm(QWidget* parent)
    : RecordForm(1, parent), name_(new QLineEdit(this)),
      technician_(new QCheckBox(tr("&Technician: repairs"), this)),
      advisor_(new QCheckBox(tr("A&dvisor: quotes and calls"), this)),
      owner_(new QCheckBox(tr("&Owner: decides what is a comeback"), this)),
      active_(new QCheckBox(tr("Work&s here now"), this)) {
    auto* roles = new QWidget(this);
    auto* column = new QVBoxLayout(roles);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid);
    for (QCheckBox* box : {technician_, advisor_, owner_})
        column->addWidget(box);
    roles->setFocusProxy(technician_);

    grid()->addField(tr("&Name"), name_, QStringLiteral("name"));
    grid()->addField(tr("What they do"), roles, QStringLiteral("technician"));
    grid()->addField(tr("Still with us"), active_, QStringLiteral("active"));
    connect(name_, &QLineEdit::textEdited, this, &StaffForm::touched);
    for (QCheckBox* box : {technician_, advisor_, owner_, active_})
        connect(box, &QCheckBox::clicked, this, &StaffForm::touched);
}

void StaffForm::fillChoices(const ShelfContents&) {}

void StaffForm::load(const ShelfRecord& record) {
    const auto& person = std::get<core::Staff>(record);
    name_->setText(toText(person.name));
    technician_->setChecked(person.technician);
    advisor_->setChecked(person.advisor);
    owner_->setChecked(person.owner);
    active_->setChecked(person.active);
}

ShelfRecord StaffForm::typed(const ShelfRecord& loaded) const {
    auto person = std::get<core::Staff>(loaded);
    keepText(person.name, name_);
    person.technician = technician_->isChecked();
    person.advisor = advisor_->isChecked();
    person.owner = owner_->isChecked();
    person.active = active_->isChecked();
    return person;
}

QWidget* StaffForm::firstField() const {
    return name_;
}

} // namespace milehold::ui
