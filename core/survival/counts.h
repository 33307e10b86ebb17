// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/survival/lives.h"

#include <cstdint>
#include <span>
#include <vector>

namespace milehold::core {

/// The sufficient statistic of every non-parametric method, for one group of lives: at each distinct mileage,
/// how many lives were watched just before it, came back at it, and otherwise left at it.
///
/// Columns `miles`, `comebacks`, `left` have h entries, mileages ascending and distinct. `leftBy` splits
/// `left` by end code (h entries for each code from kHolding on, kCameBack's column empty) and is there only
/// when asked for. Delayed entries stand in `entryMiles` (ascending, distinct, > 0) and `entered`; lives
/// entering at 0 are the rest.
struct Counts {
    std::vector<double> miles;
    std::vector<double> comebacks;
    std::vector<double> left;
    std::vector<double> entryMiles;
    std::vector<double> entered;
    std::vector<std::vector<double>> leftBy;

    std::size_t size() const { return miles.size(); }
    double lives() const;                ///< sum of weights
    double allComebacks() const;         ///< sum of weights that came back
    double longestWatched() const;       ///< largest mileage, 0 when empty
    std::vector<double> watched() const; ///< h entries: entry < t <= miles (at 0: entry 0)
    double watchedAt(double t) const;    ///< the same at any mileage
    bool isWhole() const;                ///< every count is a whole number, so that sums are exact

    /// Sums of fractions leave a residue of rounding where the watched set empties: less than this share of
    /// those not yet gone is nobody.
    static constexpr double kResidue = 1e-12;

    friend bool operator==(const Counts&, const Counts&) = default;
};

/// Adds up lives into counts, one per group, in the order of Lives::groupNames.
/// Input:  valid lives (see validate); intervals are read at `miles`.
/// Cost:   O(n) for whole mileages of a bounded range, else one radix sort.
std::vector<Counts> countsByGroup(const Lives& lives, bool splitEnds = false);

/// The same for all groups together.
Counts countsOfAll(const Lives& lives, bool splitEnds = false);

/// The same by any division of the lives: `part` has a number below `parts` for each life.
std::vector<Counts> countsByPart(const Lives& lives, std::span<const std::uint32_t> part, std::size_t parts,
                                 bool splitEnds = false);

/// One row of a SQL `GROUP BY entry, miles, end`.
struct CountRow {
    double entry = 0;
    double miles = 0;
    EndCode end = kHolding;
    double count = 0;
};

/// Counts from grouped rows in any order; equal to counting the lives one by one.
Counts countsFromRows(std::span<const CountRow> rows, bool splitEnds = false);

/// Counts of two disjoint sets of lives together.   Cost: O(h1 + h2).
Counts merged(const Counts& a, const Counts& b);

/// Counts of any number of disjoint sets of lives together.   Cost: O(h).
Counts merged(std::span<const Counts> parts);

/// The counts of the lives that go beyond a mileage, all taken as watched from there on (later entries as
/// they are). A comeback at `given` itself is over.   Cost: O(h).
Counts restartedAt(const Counts& counts, double given);

} // namespace milehold::core
