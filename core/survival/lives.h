// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace milehold::core {

/// How the watch of a life stopped. Codes from kFirstOtherEnd on are competing ends, named in
/// Lives::endNames.
using EndCode = std::uint16_t;
inline constexpr EndCode kHolding = 0;
inline constexpr EndCode kCameBack = 1;
inline constexpr EndCode kFirstOtherEnd = 2;

/// Lives as columns: row i of every column is one repair under observation.
///
/// `miles` and `end` always have n entries. Every other column is either empty, which means its default for
/// all rows, or has n entries. Mileages are doubles in one unit, taken as they were written and never
/// rounded.
struct Lives {
    std::vector<double> miles;  ///< at the comeback, or when last known quiet; finite, >= 0
    std::vector<EndCode> end;   ///< kHolding, kCameBack or a competing end
    std::vector<double> entry;  ///< default 0: watched over (entry, miles]; < miles, except 0, 0
    std::vector<double> until;  ///< default miles: a comeback lies in (miles, until]; until == miles is exact
    std::vector<double> weight; ///< default 1: so many lives like this one; > 0
    std::vector<std::uint32_t> group;   ///< default 0: index into groupNames
    std::vector<std::uint32_t> stratum; ///< default 0: index into stratumNames
    std::vector<std::uint32_t> vehicle; ///< default row number: the cluster; index into vehicleNames
    std::vector<std::string> groupNames = {"all"}; ///< in the order in which groups come out
    std::vector<std::string> endNames = {"holding", "came-back"};
    std::vector<std::string> stratumNames = {""};
    std::vector<std::string> vehicleNames;

    std::size_t size() const { return miles.size(); }
    double entryOf(std::size_t i) const { return entry.empty() ? 0.0 : entry[i]; }
    double untilOf(std::size_t i) const { return until.empty() ? miles[i] : until[i]; }
    double weightOf(std::size_t i) const { return weight.empty() ? 1.0 : weight[i]; }
    std::uint32_t groupOf(std::size_t i) const { return group.empty() ? 0U : group[i]; }
    std::uint32_t stratumOf(std::size_t i) const { return stratum.empty() ? 0U : stratum[i]; }
    bool cameBack(std::size_t i) const { return end[i] == kCameBack; }
    /// True when some comeback is known only to an interval.
    bool hasIntervals() const;
};

/// Checks every rule of the columns named above.
/// Errors: InvalidInput with the row number (from 1) and the rule.   Cost: O(n).
Result<void> validate(const Lives& lives);

/// Two mileages that are not ties and perhaps should be, and how many such pairs there are.
struct NearlyEqual {
    double smaller = 0;
    double larger = 0;
    std::size_t pairs = 0;
};

/// The first neighbours among all mileages (miles, entry, until) that differ by less than a millionth of the
/// larger without being equal; nothing when there are none. Cost: O(n) for whole mileages up to a million,
/// else O(n log n).
std::optional<NearlyEqual> nearlyEqualMileages(const Lives& lives);

/// The numbers that all of these names are; nothing when one of them is not a finite number.
std::optional<std::vector<double>> numbersOf(const std::vector<std::string>& names);

/// The order in which groups come out: by number where every name is a number, else by bytes.
/// Renames nothing; permutes groupNames and the group column together.   Cost: O(n + g log g).
void sortGroups(Lives& lives);

} // namespace milehold::core
