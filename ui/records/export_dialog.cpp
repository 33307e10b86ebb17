// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/records/export_dialog.h"

#include "ui/theme/theme.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>

namespace milehold::ui {

ExportDialog::ExportDialog(const QString& screenList, QWidget* parent)
    : QDialog(parent), what_(new QComboBox(this)), form_(new QComboBox(this)),
      people_(new QCheckBox(tr("With names, phones, VINs, plates and &notes"), this)) {
    setWindowTitle(tr("Export"));
    setMinimumWidth(520);
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    stack->setSpacing(kGap);
    auto* form = new QFormLayout;
    if (!screenList.isEmpty())
        what_->addItem(tr("The list on the screen: %1").arg(screenList), static_cast<int>(What::ScreenList));
    what_->addItem(tr("Lives, for statistics"), static_cast<int>(What::Lives));
    what_->addItem(tr("Jobs"), static_cast<int>(What::Jobs));
    what_->addItem(tr("Vehicles"), static_cast<int>(What::Vehicles));
    what_->addItem(tr("Customers"), static_cast<int>(What::Customers));
    what_->addItem(tr("Follow-up calls"), static_cast<int>(What::FollowUps));
    what_->addItem(tr("Odometer readings"), static_cast<int>(What::Odometers));
    form_->addItems({tr("Workbook (XLSX)"), tr("Comma-separated text (CSV)")});
    form->addRow(tr("&What"), what_);
    form->addRow(tr("&As"), form_);
    stack->addLayout(form);
    stack->addWidget(people_);
    auto* note =
        new QLabel(tr("People stay in the shop unless you ask for them. The change log keeps who exported "
                      "what, and how many rows."),
                   this);
    note->setWordWrap(true);
    theme::setText(note, TextRole::Small, true);
    stack->addWidget(note);
    auto* row = new QHBoxLayout;
    auto* save = new QPushButton(tr("&Save the file"), this);
    theme::setRole(save, ButtonRole::Primary);
    save->setDefault(true);
    auto* cancel = new QPushButton(tr("Cancel"), this);
    row->addStretch(1);
    row->addWidget(save);
    row->addWidget(cancel);
    stack->addLayout(row);
    connect(save, &QPushButton::clicked, this, &QDialog::accept);
    connect(cancel, &QPushButton::clicked, this, &QDialog::reject);
    connect(what_, &QComboBox::currentIndexChanged, this, &ExportDialog::showPeopleChoice);
    showPeopleChoice();
}

void ExportDialog::showPeopleChoice() {
    // Lives name nobody, customers are nothing without their names, and a list is what it shows.
    const bool asks = what() != What::Lives && what() != What::ScreenList && what() != What::Customers;
    people_->setEnabled(asks);
    if (!asks)
        people_->setChecked(what() != What::Lives);
    else if (people_->property("wasFixed").toBool())
        people_->setChecked(false);
    people_->setProperty("wasFixed", !asks);
}

ExportDialog::What ExportDialog::what() const {
    return static_cast<What>(what_->currentData().toInt());
}

void ExportDialog::setWhat(What what) {
    what_->setCurrentIndex(what_->findData(static_cast<int>(what)));
}

bool ExportDialog::asWorkbook() const {
    return form_->currentIndex() == 0;
}

bool ExportDialog::withPeople() const {
    return people_->isChecked();
}

} // namespace milehold::ui
