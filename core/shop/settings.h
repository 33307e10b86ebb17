// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/distance.h"

#include <cstdint>
#include <optional>
#include <string>

namespace milehold::core {

/// The shop's own row: its name, its units and its rules of evidence.
struct ShopSettings {
    std::string name;
    DistanceUnit unit = DistanceUnit::Miles;
    std::string currency = "USD"; ///< ISO 4217
    std::string locale;           ///< BCP 47; blank: the desktop's
    std::optional<int> warrantyMonths;
    std::optional<Distance> warrantyDistance;
    std::string warrantyTerms; ///< in the shop's words, printed on the quote
    Distance defaultYearly = Distance::miles(12'000);
    /// A visit for anything else without a word of the concern counts as known quiet.
    bool quietVisitCounts = true;
    int lostAfterMonths = 18; ///< no contact for so long: lost sight
    std::int64_t revision = 0;
    friend bool operator==(const ShopSettings&, const ShopSettings&) = default;
};

} // namespace milehold::core
