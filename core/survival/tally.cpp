// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/tally.h"

#include "core/survival/digit_sort.h"
#include "core/survival/wide_loops.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cassert>
#include <limits>
#include <numeric>
#include <optional>
#include <type_traits>

namespace milehold::core {

namespace {

constexpr std::size_t kWholePasses = 2;
constexpr double kSmallWhole = 1 << (kWholePasses * kDigitBits); // miles below it: two digits do

bool areSmallWholes(std::span<const double> at) {
    bool whole = true;
    for (const double x : at) {
        const auto mile = static_cast<std::int32_t>(std::min(x, kSmallWhole));
        whole &= static_cast<double>(mile) == x && mile < static_cast<std::int32_t>(kSmallWhole);
    }
    return whole;
}

// Mileage above, row below, in one number.
std::vector<std::uint32_t> rowsOfWholes(std::span<const double> at) {
    std::vector<std::uint64_t> keys(at.size());
    for (std::size_t i = 0; i < at.size(); ++i)
        keys[i] = (static_cast<std::uint64_t>(static_cast<std::int32_t>(at[i])) << 32U) | i;
    sortByDigits<kWholePasses>(keys, [](std::uint64_t key) { return key >> 32U; });
    std::vector<std::uint32_t> rows(at.size());
    std::transform(keys.begin(), keys.end(), rows.begin(),
                   [](std::uint64_t key) { return static_cast<std::uint32_t>(key); });
    return rows;
}

std::vector<std::uint32_t> rowsOfAny(std::span<const double> at) {
    struct Key {
        std::uint64_t bits; // of a double >= 0: ordered as the number itself
        std::uint32_t row;
    };
    std::vector<Key> keys(at.size());
    for (std::size_t i = 0; i < at.size(); ++i)
        keys[i] = {std::bit_cast<std::uint64_t>(at[i] + 0.0), static_cast<std::uint32_t>(i)}; // -0 as 0
    sortByDigits<(64 + kDigitBits - 1) / kDigitBits>(keys, [](const Key& key) { return key.bits; });
    std::vector<std::uint32_t> rows(at.size());
    std::transform(keys.begin(), keys.end(), rows.begin(), [](const Key& key) { return key.row; });
    return rows;
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
// when it is small, the ordinary case. Rows are written before it is known whether they stay: half of them
// are empty in no order, and a branch on that would be guessed wrong.
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
    std::vector<double*> sums;
    for (std::size_t k = 0; k < kinds; ++k)
        sums.push_back(tally.sums.emplace_back(distinct + 1).data());
    double* const at = tally.at.data();
    const auto write = [&](auto columns) {
        for (std::size_t mile = 0, i = 0; mile < range; ++mile) {
            const Sum* const cell = cells + mile * kinds;
            at[i] = static_cast<double>(mile);
            for (std::size_t k = 0; k < kinds; ++k)
                columns[k][i] = static_cast<double>(cell[k]);
            i += isFilled(cell) ? 1 : 0;
        }
    };
    if constexpr (Kinds > 0) {
        std::array<double*, Kinds> columns; // a copy that no row can change: it stays in registers
        std::copy_n(sums.begin(), Kinds, columns.begin());
        write(columns);
    } else {
        write(sums.data());
    }
    tally.at.pop_back();
    for (auto& column : tally.sums)
        column.pop_back();
    return tally;
}

template <class Sum> Tally columnsOf(const Sum* cells, std::size_t range, std::size_t kinds) {
    switch (kinds) {
    case 1:
        return columnsOf<1>(cells, range, kinds);
    case 2:
        return columnsOf<2>(cells, range, kinds);
    case 3:
        return columnsOf<3>(cells, range, kinds);
    case 4:
        return columnsOf<4>(cells, range, kinds);
    default:
        return columnsOf<0>(cells, range, kinds);
    }
}

// Sum is an integer for points that count once each; nothing when it was too small for what fell on one
// mileage, which is seen soon after it happens.
template <class Sum> std::optional<std::vector<Tally>> countedInto(const Points& points, std::size_t range) {
    constexpr std::size_t kBetweenLooks = 4096;
    const std::size_t kinds = points.kinds;
    std::vector<Sum> cells(points.groups * range * kinds);
    // Copies of their own, which adding to a byte cannot change.
    const auto count = [n = points.at.size(), at = points.at.data(), weight = points.weight.data(),
                        cell = cells.data(), kinds](auto groupOf, auto kindOf) {
        for (std::size_t i = 0; i < n;) {
            bool fits = true;
            for (const std::size_t end = std::min(n, i + kBetweenLooks); i < end; ++i) {
                const auto mile = static_cast<std::size_t>(static_cast<std::int32_t>(at[i]));
                Sum& sum = cell[(groupOf(i) + mile) * kinds + kindOf(i)];
                if constexpr (std::is_floating_point_v<Sum>)
                    sum += weight[i];
                else
                    fits &= ++sum != 0;
            }
            if (!fits)
                return false;
        }
        return true;
    };
    const auto countKinds = [&](auto groupOf) {
        if (points.code.empty())
            return count(groupOf, [](std::size_t) { return std::size_t{0}; });
        return count(groupOf, [code = points.code.data(), kind = points.kindOfCode.data()](std::size_t i) {
            return static_cast<std::size_t>(kind[code[i]]);
        });
    };
    const bool fits =
        points.group.empty()
            ? countKinds([](std::size_t) { return std::size_t{0}; })
            : countKinds([group = points.group.data(), range](std::size_t i) { return group[i] * range; });
    if (!fits)
        return std::nullopt;
    std::vector<Tally> tallies;
    for (std::size_t g = 0; g < points.groups; ++g)
        tallies.push_back(columnsOf(cells.data() + g * range * kinds, range, kinds));
    return tallies;
}

std::vector<Tally> counted(const Points& points, std::size_t range) {
    if (!points.weight.empty())
        return *countedInto<double>(points, range);
    // Small cells stay in the cache; few tables have 256 lives on one mileage, fewer 65,536.
    if (auto tallies = countedInto<std::uint8_t>(points, range))
        return std::move(*tallies);
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
    std::vector<std::uint32_t> rows(n);
    if (std::is_sorted(at.begin(), at.end()))
        std::iota(rows.begin(), rows.end(), std::uint32_t{0});
    else
        rows = areSmallWholes(at) ? rowsOfWholes(at) : rowsOfAny(at);
    if (group.empty() || groups == 1)
        return rows;
    std::vector<std::size_t> starts(groups);
    for (const std::uint32_t g : group)
        ++starts[g];
    toStarts(starts);
    std::vector<std::uint32_t> grouped(n);
    for (const std::uint32_t row : rows)
        grouped[starts[group[row]]++] = row;
    return grouped;
}

MILEHOLD_WIDE_LOOPS std::vector<Tally> tallied(const Points& points) {
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
