// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/path_form.h"

#include "ui/shelf/applies_editor.h"
#include "ui/shelf/choices.h"
#include "ui/shelf/path_parts_editor.h"
#include "ui/shelf/plain_fields.h"
#include "ui/widgets/decimal_field.h"
#include "ui/widgets/form_grid.h"

#include <QCheckBox>
#include <QLabel>
#include <QLineEdit>

namespace milehold::ui {

PathForm::PathForm(QWidget* parent)
    : RecordForm(6, parent), name_(new QLineEdit(this)), active_(new QCheckBox(tr("&Offered"), this)),
      price_(new MoneyField(this)), hours_(new HoursField(this)),
      calibration_(new IdCombo(tr("The newest for the engine"), this)), applies_(new AppliesEditor(this)),
      lines_(new TextField(3, this)), parts_(new PathPartsEditor(this)), replaceOnce_(new TextField(2, this)),
      cautions_(new TextField(3, this)), freshness_(new FreshnessFields(this)) {
    grid()->addField(tr("&Name"), name_, QStringLiteral("name"), 5);
    grid()->addField(tr("In use"), active_, QStringLiteral("active"), 1);
    grid()->addField(tr("&Price"), price_, QStringLiteral("price"), 2);
    grid()->addField(tr("Standard &hours"), hours_, QStringLiteral("hours"), 1);
    grid()->addField(tr("Cali&bration it loads"), calibration_, QStringLiteral("calibration"), 3);
    grid()->addSection(tr("Where it applies"));
    grid()->addField(tr("Engines"), applies_, QStringLiteral("applies"), 0)->hide();
    grid()->addSection(tr("Parts by position"));
    grid()->addField(tr("Tap the positions, choose the part, add it"), parts_, QStringLiteral("parts"), 0);
    grid()->addSection(tr("Work"));
    grid()->addField(tr("Work &lines, one a line"), lines_, QStringLiteral("lines"), 3);
    grid()->addField(tr("Never fitted t&wice, one a line"), replaceOnce_, QStringLiteral("replaceOnce"), 3);
    grid()->addField(tr("Ca&utions, one a line; shown on the job sheet"), cautions_,
                     QStringLiteral("cautions"), 0);
    grid()->addField(tr("Chec&ked on"), freshness_, QStringLiteral("freshness"), 0);

    connect(name_, &QLineEdit::textEdited, this, &PathForm::touched);
    connect(active_, &QCheckBox::clicked, this, &PathForm::touched);
    connect(price_, &MoneyField::edited, this, &PathForm::touched);
    connect(hours_, &HoursField::edited, this, &PathForm::touched);
    connect(calibration_, &IdCombo::edited, this, &PathForm::touched);
    connect(applies_, &AppliesEditor::edited, this, &PathForm::touched);
    connect(parts_, &PathPartsEditor::edited, this, &PathForm::touched);
    for (TextField* field : {lines_, replaceOnce_, cautions_})
        connect(field, &TextField::edited, this, &PathForm::touched);
    connect(freshness_, &FreshnessFields::edited, this, &PathForm::touched);
}

void PathForm::fillChoices(const ShelfContents& contents) {
    price_->setCurrency(toText(contents.settings.currency));
    calibration_->setItems(calibrationChoices(contents.shelf));
    applies_->setShelf(contents.shelf);
    parts_->setShelf(contents.shelf);
    freshness_->setToday(contents.today);
}

void PathForm::load(const ShelfRecord& record) {
    const auto& path = std::get<core::RepairPath>(record);
    name_->setText(toText(path.name));
    active_->setChecked(path.active);
    price_->setMoney(path.price);
    hours_->setHours(path.hours);
    calibration_->setId(path.calibration);
    applies_->setApplies(path.applies);
    lines_->setEntries(path.lines);
    parts_->setParts(path.parts);
    replaceOnce_->setEntries(path.replaceOnce);
    cautions_->setEntries(path.cautions);
    freshness_->setFreshness(path.freshness);
}

ShelfRecord PathForm::typed(const ShelfRecord& loaded) const {
    auto path = std::get<core::RepairPath>(loaded);
    keepText(path.name, name_);
    path.active = active_->isChecked();
    path.price = price_->money().value_or(core::Money{});
    path.hours = hours_->hours().value_or(core::Hours{});
    path.calibration = calibration_->id<core::CalibrationId>();
    path.applies = applies_->applies();
    path.lines = lines_->entries();
    path.parts = parts_->parts();
    path.replaceOnce = replaceOnce_->entries();
    path.cautions = cautions_->entries();
    path.freshness = freshness_->freshness();
    return path;
}

core::Findings PathForm::unreadable() const {
    core::Findings findings;
    if (!price_->hasValidText())
        findings.push_back(unreadableText("price", tr("Enter an amount.")));
    if (!hours_->hasValidText())
        findings.push_back(unreadableText("hours", tr("Enter hours, as 4.5.")));
    if (!applies_->hasValidText())
        findings.push_back(unreadableText("applies", tr("Enter model years as whole numbers, or nothing.")));
    if (!parts_->hasValidText())
        findings.push_back(unreadableText("parts", tr("Enter a whole quantity.")));
    if (!freshness_->hasValidText())
        findings.push_back(unreadableText("freshness", tr("This is not a date.")));
    return findings;
}

QWidget* PathForm::firstField() const {
    return name_;
}

void PathForm::refresh() {
    std::vector<core::EngineFamilyId> families;
    for (const core::PathApplies& entry : applies_->applies())
        families.push_back(entry.family);
    parts_->setFamilies(families);
}

} // namespace milehold::ui
