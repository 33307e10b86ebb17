// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/id.h"

#include <optional>
#include <string>

namespace milehold::storage {

/// Who is at this station: stands beside every change in the change log.
struct Who {
    std::optional<core::StaffId> staff;
    std::string station;
    friend bool operator==(const Who&, const Who&) = default;
};

/// The name of this machine, by which its saves are told from those of other stations.
std::string stationName();

} // namespace milehold::storage
