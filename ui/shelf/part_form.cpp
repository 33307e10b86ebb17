// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/part_form.h"

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

PartForm::PartForm(QWidget* parent)
    : RecordForm(2, parent), chain_(new ChainView(this)), fittedBy_(new QLabel(this)),
      number_(new QLineEdit(this)), revision_(new QLineEdit(this)), component_(new QComboBox(this)),
      supplier_(new QLineEdit(this)), whatChanged_(new QLineEdit(this)), introduced_(new DateField(this)),
      claim_(new WholeField(this)), successor_(new IdCombo(tr("Nothing: this is the current one"), this)),
      freshness_(new FreshnessFields(this)) {
    chain_->setAccessibleName(tr("Supersession"));
    stack()->insertWidget(0, chain_);
    fillWithLabels<core::Component>(*component_);
    claim_->setSuffix(tr("months"));

    grid()->addField(tr("&Number"), number_, QStringLiteral("number"));
    grid()->addField(tr("&Revision"), revision_, QStringLiteral("revisionLabel"));
    grid()->addField(tr("&Component"), component_, QStringLiteral("component"));
    grid()->addField(tr("&Introduced on"), introduced_, QStringLiteral("introducedOn"));
    grid()->addField(tr("What c&hanged at this revision"), whatChanged_, QStringLiteral("whatChanged"), 0);
    grid()->addField(tr("Superseded b&y"), successor_, QStringLiteral("supersededBy"), 0);
    grid()->addField(tr("Su&pplier"), supplier_, QStringLiteral("supplier"));
    grid()->addField(tr("Supplier takes claims &for"), claim_, QStringLiteral("claimMonths"));
    grid()->addField(tr("Chec&ked on"), freshness_, QStringLiteral("freshness"), 0);
    fittedBy_->setWordWrap(true);
    theme::setText(fittedBy_, TextRole::Small, true);
    stack()->addWidget(fittedBy_);

    for (QLineEdit* edit : {number_, revision_, supplier_, whatChanged_})
        connect(edit, &QLineEdit::textEdited, this, &PartForm::touched);
    connect(component_, &QComboBox::activated, this, &PartForm::touched);
    connect(introduced_, &DateField::edited, this, &PartForm::touched);
    connect(claim_, &WholeField::edited, this, &PartForm::touched);
    connect(successor_, &IdCombo::edited, this, &PartForm::touched);
    connect(freshness_, &FreshnessFields::edited, this, &PartForm::touched);
    connect(chain_, &ChainView::linkWanted, this,
            [this](const core::Uuid& id) { emit recordWanted(ShelfSection::Parts, id); });
}

void PartForm::fillChoices(const ShelfContents& contents) {
    successor_->setItems(partChoices(contents.shelf, true));
    introduced_->setToday(contents.today);
    freshness_->setToday(contents.today);
}

void PartForm::load(const ShelfRecord& record) {
    const auto& part = std::get<core::PartNumber>(record);
    number_->setText(toText(part.number));
    revision_->setText(toText(part.revisionLabel));
    choose(*component_, part.component);
    supplier_->setText(toText(part.supplier));
    whatChanged_->setText(toText(part.whatChanged));
    introduced_->setDate(part.introducedOn);
    claim_->setValue(part.claimMonths);
    successor_->setId(part.supersededBy);
    freshness_->setFreshness(part.freshness);
}

ShelfRecord PartForm::typed(const ShelfRecord& loaded) const {
    auto part = std::get<core::PartNumber>(loaded);
    keepText(part.number, number_);
    keepText(part.revisionLabel, revision_);
    keepText(part.supplier, supplier_);
    keepText(part.whatChanged, whatChanged_);
    part.component = chosen<core::Component>(*component_);
    part.introducedOn = introduced_->date();
    part.claimMonths = claim_->value();
    part.supersededBy = successor_->id<core::PartNumberId>();
    part.freshness = freshness_->freshness();
    return part;
}

core::Findings PartForm::unreadable() const {
    core::Findings findings;
    if (!introduced_->hasValidText())
        findings.push_back(unreadableText("introducedOn", tr("This is not a date.")));
    if (!claim_->hasValidText())
        findings.push_back(unreadableText("claimMonths", tr("Enter a whole number of months.")));
    if (!freshness_->hasValidText())
        findings.push_back(unreadableText("freshness", tr("This is not a date.")));
    return findings;
}

QWidget* PartForm::firstField() const {
    return number_;
}

void PartForm::refresh() {
    const auto part = std::get<core::PartNumber>(record());
    const Chain chain = chainOf(part, contents().shelf);
    chain_->setChain(chain);
    chain_->setVisible(chain.links.size() > 1);
    QStringList paths;
    for (const core::RepairPath& path : contents().shelf.paths)
        for (const core::PathPart& fitted : path.parts)
            if (fitted.part == part.id && !paths.contains(toText(path.name)))
                paths << toText(path.name);
    fittedBy_->setVisible(!paths.isEmpty());
    fittedBy_->setText(tr("Fitted by: %1").arg(paths.join(QStringLiteral(" · "))));
}

} // namespace milehold::ui
