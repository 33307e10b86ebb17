// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/calibration_form.h"

#include "ui/shelf/chain_view.h"
#include "ui/shelf/choices.h"
#include "ui/shelf/plain_fields.h"
#include "ui/theme/theme.h"
#include "ui/widgets/date_field.h"
#include "ui/widgets/form_grid.h"

#include <QLabel>
#include <QLineEdit>
#include <QVBoxLayout>

namespace milehold::ui {

CalibrationForm::CalibrationForm(QWidget* parent)
    : RecordForm(2, parent), chain_(new ChainView(this)), usedBy_(new QLabel(this)),
      code_(new QLineEdit(this)), module_(new QLineEdit(this)), family_(new IdCombo(tr("Any engine"), this)),
      from_(new WholeField(this)), to_(new WholeField(this)),
      supersedes_(new IdCombo(tr("Nothing: it is the first"), this)), released_(new DateField(this)),
      freshness_(new FreshnessFields(this)) {
    chain_->setAccessibleName(tr("Succession"));
    stack()->insertWidget(0, chain_);
    from_->setPlaceholderText(tr("any"));
    to_->setPlaceholderText(tr("any"));

    grid()->addField(tr("&Identification"), code_, QStringLiteral("code"));
    grid()->addField(tr("&Module"), module_, QStringLiteral("module"));
    grid()->addSection(tr("Applies to"));
    grid()->addField(tr("&Engine family"), family_, QStringLiteral("family"), 0);
    grid()->addField(tr("&From model year"), from_, QStringLiteral("fromYear"));
    grid()->addField(tr("&To model year"), to_, QStringLiteral("toYear"));
    grid()->addSection(tr("Succession"));
    grid()->addField(tr("S&upersedes"), supersedes_, QStringLiteral("supersedes"));
    grid()->addField(tr("&Released on"), released_, QStringLiteral("releasedOn"));
    grid()->addField(tr("Chec&ked on"), freshness_, QStringLiteral("freshness"), 0);
    usedBy_->setWordWrap(true);
    theme::setText(usedBy_, TextRole::Small, true);
    stack()->addWidget(usedBy_);

    for (QLineEdit* edit : {code_, module_})
        connect(edit, &QLineEdit::textEdited, this, &CalibrationForm::touched);
    for (IdCombo* combo : {family_, supersedes_})
        connect(combo, &IdCombo::edited, this, &CalibrationForm::touched);
    for (WholeField* field : {from_, to_})
        connect(field, &WholeField::edited, this, &CalibrationForm::touched);
    connect(released_, &DateField::edited, this, &CalibrationForm::touched);
    connect(freshness_, &FreshnessFields::edited, this, &CalibrationForm::touched);
    connect(chain_, &ChainView::linkWanted, this,
            [this](const core::Uuid& id) { emit recordWanted(ShelfSection::Calibrations, id); });
}

void CalibrationForm::fillChoices(const ShelfContents& contents) {
    family_->setItems(familyChoices(contents.shelf));
    supersedes_->setItems(calibrationChoices(contents.shelf));
    released_->setToday(contents.today);
    freshness_->setToday(contents.today);
}

void CalibrationForm::load(const ShelfRecord& record) {
    const auto& row = std::get<core::Calibration>(record);
    code_->setText(toText(row.code));
    module_->setText(toText(row.module));
    family_->setId(row.family);
    from_->setValue(row.fromYear);
    to_->setValue(row.toYear);
    supersedes_->setId(row.supersedes);
    released_->setDate(row.releasedOn);
    freshness_->setFreshness(row.freshness);
}

ShelfRecord CalibrationForm::typed(const ShelfRecord& loaded) const {
    auto row = std::get<core::Calibration>(loaded);
    keepText(row.code, code_);
    keepText(row.module, module_);
    row.family = family_->id<core::EngineFamilyId>();
    row.fromYear = from_->value();
    row.toYear = to_->value();
    row.supersedes = supersedes_->id<core::CalibrationId>();
    row.releasedOn = released_->date();
    row.freshness = freshness_->freshness();
    return row;
}

core::Findings CalibrationForm::unreadable() const {
    core::Findings findings;
    if (!from_->hasValidText())
        findings.push_back(unreadableText("fromYear", tr("Enter a model year, or nothing.")));
    if (!to_->hasValidText())
        findings.push_back(unreadableText("toYear", tr("Enter a model year, or nothing.")));
    if (!released_->hasValidText())
        findings.push_back(
            unreadableText("releasedOn", tr("This is not a date: month, day and year were expected.")));
    if (!freshness_->hasValidText())
        findings.push_back(unreadableText("freshness", tr("This is not a date.")));
    return findings;
}

QWidget* CalibrationForm::firstField() const {
    return code_;
}

void CalibrationForm::refresh() {
    const auto row = std::get<core::Calibration>(record());
    const Chain chain = chainOf(row, contents().shelf);
    chain_->setChain(chain);
    chain_->setVisible(chain.links.size() > 1);
    QStringList paths;
    for (const core::RepairPath& path : contents().shelf.paths) {
        bool names = path.calibration == row.id;
        for (const core::PathApplies& entry : path.applies)
            names = names || entry.needsCalibration == row.id || entry.excludesCalibration == row.id;
        if (names)
            paths << toText(path.name);
    }
    usedBy_->setVisible(!paths.isEmpty());
    usedBy_->setText(tr("Named by: %1").arg(paths.join(QStringLiteral(" · "))));
}

} // namespace milehold::ui
