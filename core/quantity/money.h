// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace milehold::core {

/// An amount in minor units (cents) of the shop's currency.
struct Money {
    std::int64_t minor = 0;
    constexpr Money operator+(Money other) const { return {minor + other.minor}; }
    constexpr Money operator-(Money other) const { return {minor - other.minor}; }
    friend constexpr auto operator<=>(Money, Money) = default;
};

/// Working time in hundredths of an hour, as labour guides print it.
struct Hours {
    std::int32_t hundredths = 0;
    friend constexpr auto operator<=>(Hours, Hours) = default;
};

/// Digits after the decimal point of an ISO 4217 currency: 2, but 0 or 3 for a few.
/// Source: ISO 4217, list one.
int minorDigits(std::string_view currency);

/// `-1234.50` for -123450 and two digits: a point, no grouping, no currency; the form of files.
std::string toDecimal(Money money, int digits);
/// Empty unless the text is such a number with at most `digits` decimals that fits.
std::optional<Money> moneyFromDecimal(std::string_view text, int digits);

} // namespace milehold::core
