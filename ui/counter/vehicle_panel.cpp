// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/vehicle_panel.h"

#include "ui/counter/vehicle_words.h"
#include "ui/theme/theme.h"
#include "ui/widgets/distance_field.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/labelled.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSpinBox>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

constexpr int kNoYear = 1959; // shown as "not known"
constexpr int kLastYear = 2099;

} // namespace

VehiclePanel::VehiclePanel(QWidget* parent) : QWidget(parent) {
    known_ = new QWidget(this);
    title_ = wrappingLabel(known_);
    theme::setText(title_, TextRole::Title);
    detail_ = wrappingLabel(known_);
    odometer_ = wrappingLabel(known_);
    theme::setText(odometer_, TextRole::Small, true);
    open_ = new QPushButton(tr("&Open its page"), known_);
    open_->setObjectName(QStringLiteral("openVehicle"));
    theme::setRole(open_, ButtonRole::Quiet);
    again_ = new QPushButton(tr("&Another vehicle"), known_);
    again_->setObjectName(QStringLiteral("startAgain"));
    theme::setRole(again_, ButtonRole::Quiet);
    auto* knownColumn = new QVBoxLayout(known_);
    knownColumn->setContentsMargins(0, 0, 0, 0);
    knownColumn->setSpacing(2);
    knownColumn->addWidget(title_);
    knownColumn->addWidget(detail_);
    knownColumn->addWidget(odometer_);
    auto* acts = new QHBoxLayout;
    acts->setSpacing(kHalf);
    acts->setContentsMargins(0, kHalf, 0, 0);
    acts->addWidget(open_);
    acts->addWidget(again_);
    acts->addStretch();
    knownColumn->addLayout(acts);

    byHand_ = wrappingLabel(this);
    byHand_->setText(tr("Or describe it by hand"));
    theme::setText(byHand_, TextRole::Strong);

    family_ = modestCombo(QStringLiteral("quoteFamily"), 12, this);
    modelYear_ = new QSpinBox(this);
    modelYear_->setObjectName(QStringLiteral("quoteYear"));
    modelYear_->setRange(kNoYear, kLastYear);
    modelYear_->setSpecialValueText(tr("not known"));
    modelYear_->setGroupSeparatorShown(false);
    modelYear_->setKeyboardTracking(false);
    calibration_ = modestCombo(QStringLiteral("quoteCalibration"), 8, this);
    calibration_->setEditable(true);
    calibration_->setInsertPolicy(QComboBox::NoInsert);
    calibration_->lineEdit()->setPlaceholderText(tr("not read"));
    calibration_->lineEdit()->setMaxLength(40);
    calibration_->lineEdit()->setAccessibleName(tr("Calibration on the engine computer"));
    yearly_ = new DistanceField(this);
    yearly_->setObjectName(QStringLiteral("quoteYearly"));
    yearlySource_ = wrappingLabel(this);
    theme::setText(yearlySource_, TextRole::Small, true);
    running_ = wrappingLabel(this);
    theme::setText(running_, TextRole::Small);

    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(kGrid);
    column->addWidget(known_);
    column->addWidget(byHand_);
    column->addLayout(labelled(tr("&Engine family"), family_));
    auto* pair = new QHBoxLayout;
    pair->setSpacing(kGrid);
    pair->addLayout(labelled(tr("Model &year"), modelYear_), 1);
    pair->addLayout(labelled(tr("Cali&bration"), calibration_), 1);
    column->addLayout(pair);
    column->addLayout(labelled(tr("&Driven in a year"), yearly_));
    column->addWidget(yearlySource_);
    column->addWidget(running_);
    column->addStretch();

    const auto changed = [this] {
        if (filling_)
            return;
        showYearlySource();
        emit edited();
    };
    connect(family_, &QComboBox::currentIndexChanged, this, changed);
    connect(modelYear_, &QSpinBox::valueChanged, this, changed);
    connect(calibration_, &QComboBox::currentTextChanged, this, changed);
    connect(yearly_, &DistanceField::edited, this, changed);
    connect(again_, &QPushButton::clicked, this, &VehiclePanel::startAgainWanted);
    connect(open_, &QPushButton::clicked, this, &VehiclePanel::openVehicleWanted);
    show();
}

void VehiclePanel::setChoices(const CounterChoices& choices) {
    const CounterVehicle edited = vehicle();
    choices_ = choices;
    setVehicle(edited);
}

void VehiclePanel::setVehicle(const CounterVehicle& vehicle) {
    vehicle_ = vehicle;
    show();
}

CounterVehicle VehiclePanel::vehicle() const {
    CounterVehicle vehicle = vehicle_;
    const auto family = core::uuidFromString(toUtf8(family_->currentData().toString()));
    vehicle.family = family ? std::optional(core::EngineFamilyId{*family}) : std::nullopt;
    vehicle.modelYear = modelYear_->value() == kNoYear ? std::nullopt : std::optional(modelYear_->value());
    vehicle.calibration = toUtf8(calibration_->currentText().trimmed());
    const core::Distance perYear = yearly_->distance().value_or(choices_.defaultYearly);
    if (perYear != vehicle.yearly.perYear)
        vehicle.yearly = {perYear,
                          perYear == choices_.defaultYearly ? core::YearlySource::ShopDefault
                                                            : core::YearlySource::Told,
                          0};
    return vehicle;
}

bool VehiclePanel::isComplete() const {
    return vehicle().family.has_value();
}

void VehiclePanel::show() {
    filling_ = true;
    known_->setVisible(vehicle_.vehicle.has_value());
    byHand_->setVisible(!vehicle_.vehicle);
    if (vehicle_.vehicle) {
        title_->setText(vehicleTitle(*vehicle_.vehicle));
        detail_->setText(vehicleDetail(*vehicle_.vehicle));
        odometer_->setVisible(vehicle_.lastOdometer.has_value());
        if (vehicle_.lastOdometer) {
            const QString shown = distanceText(*vehicle_.lastOdometer, choices_.unit);
            odometer_->setText(vehicle_.lastOdometerOn
                                   ? tr("%1 on %2").arg(shown, dateText(*vehicle_.lastOdometerOn))
                                   : shown);
        }
    }
    family_->clear();
    family_->addItem(tr("choose \u2026"));
    for (const auto& [id, name] : choices_.families)
        family_->addItem(toText(name), toText(core::toString(id.uuid)));
    const QString family = vehicle_.family ? toText(core::toString(vehicle_.family->uuid)) : QString();
    family_->setCurrentIndex(vehicle_.family ? std::max(0, family_->findData(family)) : 0);
    modelYear_->setValue(vehicle_.modelYear.value_or(kNoYear));
    calibration_->clear();
    for (const std::string& code : choices_.calibrations)
        calibration_->addItem(toText(code));
    calibration_->setCurrentIndex(-1);
    calibration_->setEditText(toText(vehicle_.calibration));
    yearly_->setUnit(choices_.unit);
    const bool known = vehicle_.yearly.perYear.metres() > 0;
    yearly_->setDistance(known ? vehicle_.yearly.perYear : choices_.defaultYearly);
    filling_ = false;
    showYearlySource();
    showRunning();
}

void VehiclePanel::showYearlySource() {
    const core::YearlyDistance shown = vehicle().yearly;
    const bool isUnread = !yearly_->distance() && !yearly_->text().trimmed().isEmpty();
    theme::setFieldState(yearly_, isUnread ? FieldState::Warning : FieldState::Plain);
    if (isUnread) {
        yearlySource_->setText(tr("That is no distance; reckoned with the shop's %1.")
                                   .arg(distanceText(choices_.defaultYearly, choices_.unit)));
    } else if (!yearly_->distance()) {
        yearlySource_->setText(tr("Left blank: reckoned with the shop's %1.")
                                   .arg(distanceText(choices_.defaultYearly, choices_.unit)));
    } else if (shown.source == core::YearlySource::Readings && shown.readings > 0) {
        yearlySource_->setText(
            tr("From %1 odometer readings of this vehicle.").arg(countText(shown.readings)));
    } else if (shown.source == core::YearlySource::Told) {
        yearlySource_->setText(tr("As told at the counter."));
    } else {
        yearlySource_->setText(vehicle_.vehicle
                                   ? tr("The shop's usual figure: too few readings in the last three years.")
                                   : tr("The shop's usual figure."));
    }
}

void VehiclePanel::showRunning() {
    running_->setVisible(vehicle_.running.has_value());
    if (!vehicle_.running)
        return;
    const core::Life& life = vehicle_.running->life;
    const QString on = dateText(life.repairedOn);
    const QString known = distanceText(life.known, choices_.unit);
    // Nothing said beyond what is known: a repair that nobody has heard of since holds by hope alone.
    if (life.known == core::Distance())
        running_->setText(tr("Repaired on %1. Nothing is known of it since: ask.").arg(on));
    else if (life.state == core::LifeState::LostSight)
        running_->setText(tr("Repaired on %1: quiet for %2 when it was last heard of.").arg(on, known));
    else
        running_->setText(tr("Repaired on %1 and still holding: quiet for %2 so far.").arg(on, known));
}

} // namespace milehold::ui
