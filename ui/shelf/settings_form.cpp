// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/settings_form.h"

#include "ui/shelf/choices.h"
#include "ui/shelf/plain_fields.h"
#include "ui/widgets/distance_field.h"
#include "ui/widgets/form_grid.h"
#include "ui/widgets/segmented.h"

#include <QCheckBox>
#include <QLineEdit>

namespace milehold::ui {

SettingsForm::SettingsForm(QWidget* parent)
    : RecordForm(2, parent), name_(new QLineEdit(this)),
      unit_(new Segmented({tr("Miles"), tr("Kilometres")}, this)), currency_(new QLineEdit(this)),
      locale_(new QLineEdit(this)), warrantyMonths_(new WholeField(this)),
      warrantyDistance_(new DistanceField(this)), terms_(new TextField(3, this)),
      yearly_(new DistanceField(this)), lostAfter_(new WholeField(this)),
      quietVisit_(new QCheckBox(
          tr("A &visit for anything else without a word of the noise counts as known quiet"), this)) {
    currency_->setMaxLength(3);
    locale_->setPlaceholderText(tr("as the desktop: en-US, de-DE …"));
    warrantyMonths_->setSuffix(tr("months"));
    lostAfter_->setSuffix(tr("months"));

    grid()->addField(tr("&Name of the shop"), name_, QStringLiteral("name"), 0);
    grid()->addField(tr("Distances in"), unit_, QStringLiteral("unit"));
    grid()->addField(tr("C&urrency"), currency_, QStringLiteral("currency"));
    grid()->addField(tr("&Language and number format"), locale_, QStringLiteral("locale"));
    grid()->addSection(tr("Warranty, as printed on the quote"));
    grid()->addField(tr("&Months"), warrantyMonths_, QStringLiteral("warrantyMonths"));
    grid()->addField(tr("&Distance"), warrantyDistance_, QStringLiteral("warrantyDistance"));
    grid()->addField(tr("&Terms in your words"), terms_, QStringLiteral("warrantyTerms"), 0);
    grid()->addSection(tr("Rules of evidence"));
    grid()->addField(tr("Driven a &year when nothing else is known"), yearly_,
                     QStringLiteral("defaultYearly"));
    grid()->addField(tr("Lost sight after this long without a wor&d"), lostAfter_,
                     QStringLiteral("lostAfterMonths"));
    grid()->addField(tr("Quiet visits"), quietVisit_, QStringLiteral("quietVisitCounts"), 0);

    for (QLineEdit* edit : {name_, currency_, locale_})
        connect(edit, &QLineEdit::textEdited, this, &SettingsForm::touched);
    for (WholeField* field : {warrantyMonths_, lostAfter_})
        connect(field, &WholeField::edited, this, &SettingsForm::touched);
    for (DistanceField* field : {warrantyDistance_, yearly_})
        connect(field, &DistanceField::edited, this, &SettingsForm::touched);
    connect(terms_, &TextField::edited, this, &SettingsForm::touched);
    connect(quietVisit_, &QCheckBox::clicked, this, &SettingsForm::touched);
    connect(unit_, &Segmented::chosen, this, [this](int index) {
        const auto unit = index == 1 ? core::DistanceUnit::Kilometres : core::DistanceUnit::Miles;
        warrantyDistance_->setUnit(unit);
        yearly_->setUnit(unit);
        touched();
    });
}

void SettingsForm::fillChoices(const ShelfContents&) {}

void SettingsForm::load(const ShelfRecord& record) {
    const auto& shop = std::get<core::ShopSettings>(record);
    name_->setText(toText(shop.name));
    unit_->setCurrent(shop.unit == core::DistanceUnit::Kilometres ? 1 : 0);
    currency_->setText(toText(shop.currency));
    locale_->setText(toText(shop.locale));
    warrantyMonths_->setValue(shop.warrantyMonths);
    for (DistanceField* field : {warrantyDistance_, yearly_})
        field->setUnit(shop.unit);
    warrantyDistance_->setDistance(shop.warrantyDistance);
    terms_->setText(shop.warrantyTerms);
    yearly_->setDistance(shop.defaultYearly);
    lostAfter_->setValue(shop.lostAfterMonths);
    quietVisit_->setChecked(shop.quietVisitCounts);
}

ShelfRecord SettingsForm::typed(const ShelfRecord& loaded) const {
    auto shop = std::get<core::ShopSettings>(loaded);
    keepText(shop.name, name_);
    if (currency_->text() != toText(shop.currency))
        shop.currency = toUtf8(currency_->text().trimmed().toUpper());
    keepText(shop.locale, locale_);
    shop.unit = unit_->current() == 1 ? core::DistanceUnit::Kilometres : core::DistanceUnit::Miles;
    shop.warrantyMonths = warrantyMonths_->value();
    shop.warrantyDistance = warrantyDistance_->distance();
    shop.warrantyTerms = terms_->text();
    if (const auto yearly = yearly_->distance())
        shop.defaultYearly = *yearly;
    if (const auto months = lostAfter_->value())
        shop.lostAfterMonths = *months;
    shop.quietVisitCounts = quietVisit_->isChecked();
    return shop;
}

core::Findings SettingsForm::unreadable() const {
    core::Findings findings;
    if (!warrantyMonths_->hasValidText())
        findings.push_back(
            unreadableText("warrantyMonths", tr("Enter a whole number of months, or nothing.")));
    if (!warrantyDistance_->hasValidText())
        findings.push_back(unreadableText("warrantyDistance", tr("Enter a whole distance, or nothing.")));
    if (!yearly_->distance())
        findings.push_back(
            unreadableText("defaultYearly", tr("Enter how far a vehicle is driven in a year.")));
    if (!lostAfter_->value())
        findings.push_back(unreadableText("lostAfterMonths", tr("Enter a whole number of months.")));
    return findings;
}

QWidget* SettingsForm::firstField() const {
    return name_;
}

} // namespace milehold::ui
