// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/settings.h"

#include <string>
#include <string_view>
#include <vector>

namespace milehold::core {

/// A length of time or a distance that stands in a text.
template <class Amount> struct WrittenAmount {
    Amount amount{};
    std::string asWritten; ///< `24,000 miles`
    friend bool operator==(const WrittenAmount&, const WrittenAmount&) = default;
};

/// The terms that a warranty's words speak of.
struct WarrantyWords {
    std::vector<WrittenAmount<int>> months; ///< years taken as twelve of them
    std::vector<WrittenAmount<Distance>> distances;
    friend bool operator==(const WarrantyWords&, const WarrantyWords&) = default;
};

/// Reads English words and the signs mi and km: `24 months`, `two years`, `24,000-mile`, `40 000 km`, `12k
/// miles`. What is none of these is passed over; never fails. Cost: O(length).
WarrantyWords readWarrantyWords(std::string_view text);

/// True when the words name every term that is entered: then they need not be said beside them.
bool saysItsTerms(const ShopSettings& settings);

/// What to say where the shop's words name months that are not its months of warranty; blank where they do
/// not. Words that name the months besides others agree with them.
std::string monthsContradicted(const ShopSettings& settings);
/// The same of the distance, equal within one in a hundred: whole miles and whole kilometres are rounded.
std::string distanceContradicted(const ShopSettings& settings);

} // namespace milehold::core
