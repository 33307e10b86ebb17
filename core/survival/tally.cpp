// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/tally.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cassert>
#include <limits>
#include <numeric>
#include <optional>
#include <type_traits>
#include <utility>

namespace milehold::core {

namespace {

constexpr std::size_t kDigitBits = 11;
constexpr std::size_t kDigits = std::size_t{1} << kDigitBits;
constexpr std::size_t kPasses = (64 + kDigitBits - 1) / kDigitBits;

struct Key {
    std::uint64_t bits; // of a double >= 0: ordered as the number itself
    std::uint32_t row;
};

std::size_t digitOf(std::uint64_t bits, std::size_t pass) {
    return static_cast<std::size_t>(bits >> (pass * kDigitBits)) & (kDigits - 1);
}

// Counts of a digit, turned into where each bucket begins.
template <class Counter> void toStarts(Counter& counts) {
    std::size_t start = 0;
    for (auto& count : counts)
        start += std::exchange(count, start);
}

std::size_t kindOf(const Points& points, std::size_t row) {
    return points.code.empty() ? 0 : points.kindOfCode[points.code[row]];
}

// The number of mileages 0, 1, 2 ... to count in, when all are whole and counting is worth its memory.
std::optional<std::size_t> wholeRange(const Points& points) {
    constexpr std::size_t kAlwaysFine = std::size_t{1} << 16;
    const double largest = *std::max_element(points.at.begin(), points.at.end());
    const double room = static_cast<double>(4 * points.at.size() + kAlwaysFine);
    const double cells = (largest + 1) * static_cast<double>(points.groups * points.kinds);
    if (!(cells <= room) || largest >= std::numeric_limits<std::int32_t>::max())
        return std::nullopt;
    bool whole = true;
    for (const double at : points.at)
        whole &= static_cast<double>(static_cast<std::int32_t>(at)) == at;
    if (!whole)
        return std::nullopt;
    return static_cast<std::size_t>(largest) + 1;
}

// Sum is an integer for points that count once each: exact, and half the memory of a double.
template <class Sum> std::vector<Tally> countedInto(const Points& points, std::size_t range) {
    const std::size_t kinds = points.kinds;
    std::vector<Sum> cells(points.groups * range * kinds);
    for (std::size_t i = 0; i < points.at.size(); ++i) {
        const std::size_t group = points.group.empty() ? 0 : points.group[i];
        const auto mile = static_cast<std::size_t>(static_cast<std::int32_t>(points.at[i]));
        Sum& cell = cells[(group * range + mile) * kinds + kindOf(points, i)];
        if constexpr (std::is_floating_point_v<Sum>)
            cell += points.weight[i];
        else
            ++cell;
    }

    std::vector<Tally> tallies(points.groups);
    for (std::size_t g = 0; g < points.groups; ++g) {
        const Sum* const first = cells.data() + g * range * kinds;
        const auto isEmpty = [first, kinds](std::size_t mile) {
            const Sum* const cell = first + mile * kinds;
            return std::all_of(cell, cell + kinds, [](Sum sum) { return sum == 0; });
        };
        std::size_t distinct = 0;
        for (std::size_t mile = 0; mile < range; ++mile)
            distinct += isEmpty(mile) ? 0 : 1;

        Tally& tally = tallies[g];
        tally.at.resize(distinct);
        tally.sums.assign(kinds, std::vector<double>(distinct));
        for (std::size_t mile = 0, i = 0; mile < range; ++mile) {
            if (isEmpty(mile))
                continue;
            tally.at[i] = static_cast<double>(mile);
            for (std::size_t k = 0; k < kinds; ++k)
                tally.sums[k][i] = static_cast<double>(first[mile * kinds + k]);
            ++i;
        }
    }
    return tallies;
}

std::vector<Tally> sortedInto(const Points& points) {
    const std::vector<std::uint32_t> rows = sortedRows(points.at, points.group, points.groups);
    std::vector<Tally> tallies(points.groups);
    for (Tally& tally : tallies)
        tally.sums.resize(points.kinds);
    for (const std::uint32_t row : rows) {
        Tally& tally = tallies[points.group.empty() ? 0 : points.group[row]];
        if (tally.at.empty() || tally.at.back() != points.at[row]) {
            tally.at.push_back(points.at[row]);
            for (auto& sums : tally.sums)
                sums.push_back(0);
        }
        tally.sums[kindOf(points, row)].back() += points.weight.empty() ? 1 : points.weight[row];
    }
    return tallies;
}

} // namespace

std::vector<std::uint32_t> sortedRows(std::span<const double> at, std::span<const std::uint32_t> group,
                                      std::size_t groups) {
    const std::size_t n = at.size();
    assert(n <= std::numeric_limits<std::uint32_t>::max());
    std::vector<Key> keys(n);
    std::vector<Key> other(n);
    std::array<std::array<std::size_t, kDigits>, kPasses> counts{};
    for (std::size_t i = 0; i < n; ++i) {
        const auto bits = std::bit_cast<std::uint64_t>(at[i] + 0.0); // -0 sorts as 0
        keys[i] = {bits, static_cast<std::uint32_t>(i)};
        for (std::size_t pass = 0; pass < kPasses; ++pass)
            ++counts[pass][digitOf(bits, pass)];
    }
    for (std::size_t pass = 0; pass < kPasses; ++pass) {
        if (n == 0 || counts[pass][digitOf(keys.front().bits, pass)] == n)
            continue; // all share this digit
        toStarts(counts[pass]);
        for (const Key& key : keys)
            other[counts[pass][digitOf(key.bits, pass)]++] = key;
        keys.swap(other);
    }

    std::vector<std::uint32_t> rows(n);
    if (group.empty() || groups == 1) {
        std::transform(keys.begin(), keys.end(), rows.begin(), [](const Key& key) { return key.row; });
        return rows;
    }
    std::vector<std::size_t> starts(groups);
    for (const std::uint32_t g : group)
        ++starts[g];
    toStarts(starts);
    for (const Key& key : keys)
        rows[starts[group[key.row]]++] = key.row;
    return rows;
}

std::vector<Tally> tallied(const Points& points) {
    if (points.at.empty()) {
        std::vector<Tally> none(points.groups);
        for (Tally& tally : none)
            tally.sums.resize(points.kinds);
        return none;
    }
    const auto range = wholeRange(points);
    if (!range)
        return sortedInto(points);
    return points.weight.empty() ? countedInto<std::uint32_t>(points, *range)
                                 : countedInto<double>(points, *range);
}

} // namespace milehold::core
