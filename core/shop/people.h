// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/id.h"

#include <cstdint>
#include <string>
#include <vector>

namespace milehold::core {

/// Somebody who works in the shop.
struct Staff {
    StaffId id;
    std::string name; ///< never blank
    bool technician = false;
    bool advisor = false;
    bool owner = false;
    bool active = true;
    std::int64_t revision = 0;
    friend bool operator==(const Staff&, const Staff&) = default;
};

/// The person to whom a vehicle belongs.
struct Customer {
    CustomerId id;
    std::string name; ///< never blank
    std::vector<std::string> phones;
    std::vector<std::string> emails;
    std::string bestTime; ///< when they like to be called, in words
    bool doNotCall = false;
    std::string note;
    std::int64_t revision = 0;
    friend bool operator==(const Customer&, const Customer&) = default;
};

} // namespace milehold::core
