// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/id.h"

#include <optional>

class QWidget;

namespace milehold::app {

/// The vehicle that a room shows: of the sheet or the chosen job in the Bay, of the call or the quote at the
/// Counter. Empty in other rooms, and where none is chosen.
std::optional<core::VehicleId> vehicleAtHand(const QWidget& room);

} // namespace milehold::app
