// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <compare>
#include <cstdint>

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

} // namespace milehold::core
