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
    constexpr double kBeyond = std::numeric_limits<std::int32_t>::max();
    std::int32_t largest = 0;
    bool whole = true;
    for (const double at : points.at) {
        const auto mile = static_cast<std::int32_t>(std::min(at, kBeyond));
        whole &= static_cast<double>(mile) == at;
        largest = std::max(largest, mile);
    }
    const double cells =
        (static_cast<double>(largest) + 1) * static_cast<double>(points.groups * points.kinds);
    if (!whole || cells > static_cast<double>(4 * points.at.size() + kAlwaysFine))
        return std::nullopt;
    return static_cast<std::size_t>(largest) + 1;
}

// One group's cells, `kinds` a mileage, as columns without the mileages where nothing fell. Kinds is known
// when it is 2, the ordinary case. Rows are written before it is known whether they stay: half of them are
// empty in no order, and a branch on that would be guessed wrong.
template <std::size_t Kinds, class Sum>
Tally columnsOf(const Sum* cells, std::size_t range, std::size_t kinds) {
    if constexpr (Kinds > 0)
        kinds = Kinds;
    const auto isFilled = [kinds](const Sum* cell) {
        bool filled = false;
        for (std::size_t k = 0; k < kinds; ++k)
            filled |= cell[k] != 0;
        return filled;
    };
    std::size_t distinct = 0;
    for (std::size_t mile = 0; mile < range; ++mile)
        distinct += isFilled(cells + mile * kinds) ? 1 : 0;

    Tally tally;
    tally.at.resize(distinct + 1); // one to spare for the last row that does not stay
    tally.sums.assign(kinds, std::vector<double>(distinct + 1));
    std::vector<double*> sums;
    for (auto& column : tally.sums)
        sums.push_back(column.data());
    double* const at = tally.at.data();
    double* const* const columns = sums.data();
    for (std::size_t mile = 0, i = 0; mile < range; ++mile) {
        const Sum* const cell = cells + mile * kinds;
        at[i] = static_cast<double>(mile);
        for (std::size_t k = 0; k < kinds; ++k)
            columns[k][i] = static_cast<double>(cell[k]);
        i += isFilled(cell) ? 1 : 0;
    }
    tally.at.pop_back();
    for (auto& column : tally.sums)
        column.pop_back();
    return tally;
}

// Sum is an integer for points that count once each; nothing when it was too small for what fell on one
// mileage.
template <class Sum> std::optional<std::vector<Tally>> countedInto(const Points& points, std::size_t range) {
    const std::size_t kinds = points.kinds;
    const std::size_t n = points.at.size();
    std::vector<Sum> cells(points.groups * range * kinds);
    const auto count = [&](auto cellOf) {
        bool fits = true;
        for (std::size_t i = 0; i < n; ++i) {
            Sum& cell = cells[cellOf(i)];
            if constexpr (std::is_floating_point_v<Sum>)
                cell += points.weight[i];
            else
                fits &= ++cell != 0;
        }
        return fits;
    };
    const auto mileOf = [&points](std::size_t i) {
        return static_cast<std::size_t>(static_cast<std::int32_t>(points.at[i]));
    };
    const bool fits = points.group.empty()
                          ? count([&](std::size_t i) { return mileOf(i) * kinds + kindOf(points, i); })
                          : count([&](std::size_t i) {
                                return (points.group[i] * range + mileOf(i)) * kinds + kindOf(points, i);
                            });
    if (!fits)
        return std::nullopt;
    std::vector<Tally> tallies;
    for (std::size_t g = 0; g < points.groups; ++g) {
        const Sum* const own = cells.data() + g * range * kinds;
        tallies.push_back(kinds == 2 ? columnsOf<2>(own, range, kinds) : columnsOf<0>(own, range, kinds));
    }
    return tallies;
}

std::vector<Tally> counted(const Points& points, std::size_t range) {
    if (!points.weight.empty())
        return *countedInto<double>(points, range);
    // Small cells stay in the cache; few tables have 65,536 lives on one mileage.
    if (auto tallies = countedInto<std::uint16_t>(points, range))
        return std::move(*tallies);
    return *countedInto<std::uint32_t>(points, range);
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
    return range ? counted(points, *range) : sortedInto(points);
}

} // namespace milehold::core
