// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/counter_values.h"

#include <QWidget>

class QComboBox;
class QLabel;
class QPushButton;
class QSpinBox;

namespace milehold::ui {

class DistanceField;

/// The vehicle that is quoted for. Found in the records its fields are filled in and may be changed ("what if
/// it ran 20,000 a year?"); without one the same fields describe a vehicle by hand.
class VehiclePanel : public QWidget {
    Q_OBJECT
public:
    explicit VehiclePanel(QWidget* parent = nullptr);

    void setChoices(const CounterChoices& choices);
    void setVehicle(const CounterVehicle& vehicle);
    /// The vehicle with what was changed in the fields.
    CounterVehicle vehicle() const;
    /// Enough to quote for: an engine family.
    bool isComplete() const;

signals:
    void edited();            ///< by the user
    void startAgainWanted();  ///< another customer
    void openVehicleWanted(); ///< the vehicle's own page

private:
    void show();
    void showYearlySource();
    void showRunning();

    CounterChoices choices_;
    CounterVehicle vehicle_;
    QWidget* known_ = nullptr;
    QLabel* title_ = nullptr;
    QLabel* detail_ = nullptr;
    QLabel* odometer_ = nullptr;
    QPushButton* open_ = nullptr;
    QPushButton* again_ = nullptr;
    QLabel* byHand_ = nullptr;
    QComboBox* family_ = nullptr;
    QSpinBox* modelYear_ = nullptr;
    QComboBox* calibration_ = nullptr;
    DistanceField* yearly_ = nullptr;
    QLabel* yearlySource_ = nullptr;
    QLabel* running_ = nullptr;
    bool filling_ = false;
};

} // namespace milehold::ui
