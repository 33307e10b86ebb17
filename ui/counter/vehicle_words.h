// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/counter_values.h"

#include <QString>

namespace milehold::ui {

/// `2016 Orbin Vale`; its plate or VIN where nothing else is known of it; never blank.
QString vehicleTitle(const VehicleFound& vehicle);
/// Plate, the end of the VIN and the customer, as far as they are known.
QString vehicleDetail(const VehicleFound& vehicle);

} // namespace milehold::ui
