// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quote/quote_point.h"
#include "core/result.h"
#include "core/survival/counts.h"
#include "core/survival/curve.h"

#include <optional>

namespace milehold::core {

/// Repairs below which, or below so many watched, no estimate is shown.
inline constexpr double kFewest = 5;

/// One set of lives with its curve, and what may be said of it at a distance.
class WatchedSet {
public:
    /// `counts` holds at least one life.
    static Result<WatchedSet> of(Counts counts, double level);

    const Counts& counts() const { return counts_; }
    const Curve& curve() const { return curve_; }
    double lives() const { return curve_.lives; }
    double comebacks() const { return curve_.comebacks; }

    /// The value at `miles` by the rules of an honest quote: nothing beyond the last watched distance; no
    /// estimate before the first comeback, nor from where fewer than five were watched (with late entries,
    /// from the first such distance on); before the first comeback the one-sided lower limit instead. At the
    /// very last distance the limits are those just below it, as the lower one is 0 from there on.
    QuotePoint pointAt(double miles) const;
    /// The same of counts and their curve with exact limits, where they are at hand already.
    static QuotePoint pointOf(const Counts& counts, const Curve& curve, double miles);
    /// Fewer than five are watched somewhere just after this distance.
    double fewFrom() const { return fewFrom_; }

private:
    Counts counts_;
    Curve curve_;
    double fewFrom_ = 0; ///< fewer than five are watched somewhere just after this distance
};

/// The one-sided lower limit of a level from the two-sided exact one of the same level, before the first
/// comeback, where both are a power of the number watched: (1 - level)^(1/n) from ((1 - level)/2)^(1/n).
double oneSidedBeforeComebacks(double twoSidedLower, double level);

} // namespace milehold::core
