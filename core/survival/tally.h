// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace milehold::core {

/// n points, each at a mileage, of a group, of a kind, and so many times.
///
/// `group` and `weight` are empty (group 0, weight 1) or have n entries. `code` is empty (kind 0) or has n
/// entries, which `kindOfCode` turns into a kind below `kinds`.
struct Points {
    std::span<const double> at; ///< finite, >= 0
    std::span<const std::uint32_t> group;
    std::span<const std::uint16_t> code;
    std::span<const double> weight;
    std::size_t groups = 1;
    std::span<const std::uint16_t> kindOfCode;
    std::size_t kinds = 1;
};

/// What fell where, in one group: `sums[k][i]` is the weight of the points of kind k at the mileage `at[i]`.
struct Tally {
    std::vector<double> at; ///< distinct, ascending
    std::vector<std::vector<double>> sums;
};

/// Adds points up, one tally a group.
/// Cost: one counting pass, O(n), for whole mileages of a range that is not much larger than n; else a radix
/// sort.
std::vector<Tally> tallied(const Points& points);

/// Numbers of the rows in ascending order of (group, mileage), rows of one mileage in their own order. Cost:
/// O(n).
std::vector<std::uint32_t> sortedRows(std::span<const double> at, std::span<const std::uint32_t> group,
                                      std::size_t groups);

} // namespace milehold::core
