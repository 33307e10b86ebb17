// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/vehicle_section.h"

#include "core/shop/vin.h"
#include "ui/widgets/form_grid.h"

#include <QCheckBox>
#include <QIntValidator>
#include <QLineEdit>
#include <QVBoxLayout>

namespace milehold::ui {
namespace {

constexpr int kMostYear = 9999;

QString joined(const std::vector<std::string>& items) {
    QStringList texts;
    for (const auto& item : items)
        texts << toText(item);
    return texts.join(QStringLiteral(", "));
}

std::vector<std::string> split(const QLineEdit* field) {
    std::vector<std::string> items;
    for (const auto& item : field->text().split(QChar(','), Qt::SkipEmptyParts))
        if (!item.trimmed().isEmpty())
            items.push_back(toUtf8(item.trimmed()));
    return items;
}

} // namespace

VehicleSection::VehicleSection(QWidget* parent)
    : QWidget(parent), grid_(new FormGrid(6, this)), vin_(new QLineEdit), plate_(new QLineEdit),
      year_(new QLineEdit), maker_(new QLineEdit), model_(new QLineEdit),
      family_(new RecordBox<core::EngineFamilyId>(tr("Not known"))), note_(new QLineEdit),
      name_(new QLineEdit), phones_(new QLineEdit), emails_(new QLineEdit), bestTime_(new QLineEdit),
      customerNote_(new QLineEdit), doNotCall_(new QCheckBox(tr("Do not call this customer"))) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->addWidget(grid_);
    year_->setMaxLength(4);
    year_->setValidator(new QIntValidator(0, kMostYear, year_));

    grid_->addSection(tr("Vehicle and customer"));
    grid_->addField(tr("VI&N"), vin_, QStringLiteral("vehicle.vin"), 2);
    grid_->addField(tr("Plate"), plate_, QStringLiteral("vehicle.plate"));
    grid_->addField(tr("Model year"), year_, QStringLiteral("vehicle.modelYear"));
    grid_->addField(tr("Engine family"), family_, QStringLiteral("vehicle.family"), 2);
    grid_->addField(tr("Maker"), maker_, QStringLiteral("vehicle.maker"), 2);
    grid_->addField(tr("Model"), model_, QStringLiteral("vehicle.model"), 2);
    grid_->addField(tr("Note on the vehicle"), note_, QStringLiteral("vehicle.note"), 2);
    grid_->addField(tr("Custo&mer"), name_, QStringLiteral("customer.name"), 2);
    grid_->addField(tr("Phones, a comma between two"), phones_, QStringLiteral("customer.phones"), 2);
    grid_->addField(tr("E-mail"), emails_, QStringLiteral("customer.emails"), 2);
    grid_->addField(tr("Best time to call"), bestTime_, QStringLiteral("customer.bestTime"), 2);
    grid_->addField(tr("Note on the customer"), customerNote_, QStringLiteral("customer.note"), 2);
    grid_->addField(QString(), doNotCall_, QStringLiteral("customer.doNotCall"), 2);
    doNotCall_->setAccessibleName(doNotCall_->text());

    for (auto* field :
         {vin_, plate_, year_, maker_, model_, note_, name_, phones_, emails_, bestTime_, customerNote_})
        connect(field, &QLineEdit::textEdited, this, &VehicleSection::edited);
    connect(family_, &QComboBox::activated, this, &VehicleSection::edited);
    connect(doNotCall_, &QCheckBox::clicked, this, &VehicleSection::edited);
    connect(vin_, &QLineEdit::editingFinished, this, &VehicleSection::finishVin);
}

void VehicleSection::setContext(const BayContext& context) {
    std::vector<RecordBox<core::EngineFamilyId>::Choice> families;
    for (const auto& family : context.shelf->families)
        families.push_back({family.id, toText(family.name)});
    family_->setChoices(std::move(families));
}

void VehicleSection::showCard(const JobCard& card) {
    const core::Vehicle& vehicle = card.vehicle;
    vin_->setText(toText(vehicle.vin));
    yearOfVin_.clear();
    plate_->setText(toText(vehicle.plate));
    year_->setText(vehicle.modelYear ? QString::number(*vehicle.modelYear) : QString());
    maker_->setText(toText(vehicle.maker));
    model_->setText(toText(vehicle.model));
    family_->setId(vehicle.family);
    note_->setText(toText(vehicle.note));
    const core::Customer customer = card.customer.value_or(core::Customer{});
    name_->setText(toText(customer.name));
    phones_->setText(joined(customer.phones));
    emails_->setText(joined(customer.emails));
    bestTime_->setText(toText(customer.bestTime));
    customerNote_->setText(toText(customer.note));
    doNotCall_->setChecked(customer.doNotCall);
}

void VehicleSection::readInto(JobCard& card) const {
    core::Vehicle& vehicle = card.vehicle;
    vehicle.vin = toUtf8(vin_->text().trimmed());
    vehicle.plate = toUtf8(plate_->text().trimmed());
    bool isNumber = false;
    const int year = year_->text().toInt(&isNumber);
    vehicle.modelYear = isNumber ? std::optional(year) : std::nullopt;
    vehicle.maker = toUtf8(maker_->text().trimmed());
    vehicle.model = toUtf8(model_->text().trimmed());
    vehicle.family = family_->id();
    vehicle.note = toUtf8(note_->text().trimmed());
    core::Customer customer = card.customer.value_or(core::Customer{});
    customer.name = toUtf8(name_->text().trimmed());
    customer.phones = split(phones_);
    customer.emails = split(emails_);
    customer.bestTime = toUtf8(bestTime_->text().trimmed());
    customer.note = toUtf8(customerNote_->text().trimmed());
    customer.doNotCall = doNotCall_->isChecked();
    if (card.customer || customer != core::Customer{})
        card.customer = customer;
}

void VehicleSection::finishVin() {
    if (!vin_->isModified())
        return;
    const std::string vin = core::vinFromScan(toUtf8(vin_->text()));
    const bool tidied = toText(vin) != vin_->text();
    if (tidied)
        vin_->setText(toText(vin));
    const auto year = core::vinModelYear(vin);
    // A year that an earlier reading of the VIN filled in goes when the VIN is put right.
    const bool filled = year && (year_->text().isEmpty() || year_->text() == yearOfVin_) &&
                        year_->text() != QString::number(*year);
    if (filled)
        year_->setText(QString::number(*year));
    if (year && (filled || year_->text() == QString::number(*year)))
        yearOfVin_ = year_->text();
    vin_->setModified(false);
    if (tidied || filled)
        emit edited();
}

core::Findings VehicleSection::setFindings(const core::Findings& findings) {
    return grid_->setFindings(findings);
}

bool VehicleSection::focusField(const QString& name) {
    return grid_->focusField(name);
}

} // namespace milehold::ui
