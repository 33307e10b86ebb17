// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"

#include <chrono>

namespace milehold::storage {

/// The machine's clock, UTC, in whole milliseconds as records keep it.
inline core::Moment machineNow() {
    return std::chrono::floor<std::chrono::milliseconds>(std::chrono::system_clock::now());
}

} // namespace milehold::storage
