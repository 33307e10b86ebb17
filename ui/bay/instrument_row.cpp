// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/instrument_row.h"

#include "core/life/odometer.h"
#include "ui/theme/theme.h"
#include "ui/widgets/date_field.h"
#include "ui/widgets/distance_field.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>

namespace milehold::ui {

InstrumentRow::InstrumentRow(QWidget* parent)
    : QWidget(parent), day_(new DateField(this)), old_(new DistanceField(this)),
      fresh_(new DistanceField(this)), confirm_(new QPushButton(tr("Keep the replacement"), this)) {
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(kMargin, kGrid, kMargin, kGrid);
    row->setSpacing(kGrid);
    const auto add = [&](const QString& text, QWidget* field, const char* name, int width) {
        auto* label = new QLabel(text, this);
        label->setBuddy(field);
        field->setObjectName(QLatin1String(name));
        field->setFixedWidth(width);
        row->addWidget(label);
        row->addWidget(field);
    };
    add(tr("Instrument replaced on"), day_, "instrumentDay", 140);
    add(tr("the old one showed"), old_, "instrumentOld", 132);
    add(tr("the new one showed"), fresh_, "instrumentNew", 132);
    row->addStretch(1);
    confirm_->setObjectName(QStringLiteral("instrumentConfirm"));
    theme::setRole(confirm_, ButtonRole::Primary);
    row->addWidget(confirm_);
    auto* cancel = new QPushButton(tr("Cancel"), this);
    row->addWidget(cancel);
    connect(confirm_, &QPushButton::clicked, this, &InstrumentRow::confirmed);
    connect(cancel, &QPushButton::clicked, this, &InstrumentRow::cancelled);
    for (auto* field : {old_, fresh_})
        connect(field, &QLineEdit::textChanged, this, &InstrumentRow::updateConfirm);
    connect(day_, &QLineEdit::textChanged, this, &InstrumentRow::updateConfirm);
    updateConfirm();
}

void InstrumentRow::setContext(const BayContext& context) {
    day_->setToday(context.today);
    for (auto* field : {old_, fresh_})
        field->setUnit(context.unit);
}

void InstrumentRow::ask(core::Date day) {
    day_->setDate(day.ok() ? std::optional(day) : std::nullopt);
    old_->setDistance(std::nullopt);
    fresh_->setDistance(core::Distance());
    show();
    old_->setFocus(Qt::OtherFocusReason);
}

void InstrumentRow::updateConfirm() {
    confirm_->setEnabled(day_->date() && old_->distance() && fresh_->distance());
}

std::optional<core::OdometerReading> InstrumentRow::reading(const core::VehicleHistory& past) const {
    const auto day = day_->date();
    const auto old = old_->distance();
    const auto fresh = fresh_->distance();
    if (!day || !old || !fresh)
        return std::nullopt;
    core::OdometerReading reading;
    reading.vehicle = past.vehicle.id;
    reading.date = *day;
    reading.shown = *fresh;
    reading.resetOffset = core::Instruments(past).runAt(*day, *old) - *fresh;
    return reading;
}

} // namespace milehold::ui
