// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace milehold::core {

inline constexpr std::size_t kDigitBits = 11;
inline constexpr std::size_t kDigits = std::size_t{1} << kDigitBits;

/// Counts of a digit, turned into where each bucket begins.
template <class Counter> void toStarts(Counter& counts) {
    std::size_t start = 0;
    for (auto& count : counts)
        start += std::exchange(count, start);
}

inline std::size_t digitOf(std::uint64_t bits, std::size_t pass) {
    return static_cast<std::size_t>(bits >> (pass * kDigitBits)) & (kDigits - 1);
}

/// Radix sort by `Passes` digits of what `bitsOf` makes of a key; keys alike stay in their order.
template <std::size_t Passes, class Key, class BitsOf>
void sortByDigits(std::vector<Key>& keys, BitsOf bitsOf) {
    if (keys.empty())
        return;
    std::vector<Key> other(keys.size());
    std::array<std::array<std::size_t, kDigits>, Passes> counts{};
    for (const Key& key : keys)
        for (std::size_t pass = 0; pass < Passes; ++pass)
            ++counts[pass][digitOf(bitsOf(key), pass)];
    for (std::size_t pass = 0; pass < Passes; ++pass) {
        if (counts[pass][digitOf(bitsOf(keys.front()), pass)] == keys.size())
            continue; // all share this digit
        toStarts(counts[pass]);
        for (const Key& key : keys)
            other[counts[pass][digitOf(bitsOf(key), pass)]++] = key;
        keys.swap(other);
    }
}

} // namespace milehold::core
