// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "ui/bay/bay_context.h"

#include <QWidget>

class QPushButton;

namespace milehold::ui {

class DateField;
class DistanceField;

/// Says that a vehicle's instrument was replaced: when, what the old one showed, what the new one showed.
/// From then on the new one is read with the difference added back.
class InstrumentRow : public QWidget {
    Q_OBJECT
public:
    explicit InstrumentRow(QWidget* parent = nullptr);

    void setContext(const BayContext& context);
    /// Starts blank, on the day given.
    void ask(core::Date day);
    /// The reading as the records keep it, without a key; empty while something is missing.
    std::optional<core::OdometerReading> reading(const core::VehicleHistory& past) const;

signals:
    void confirmed();
    void cancelled();

private:
    void updateConfirm();

    DateField* day_;
    DistanceField* old_;
    DistanceField* fresh_;
    QPushButton* confirm_;
};

} // namespace milehold::ui
