// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/money.h"
#include "core/shop/job.h"

namespace milehold::core {

/// What comebacks cost the shop, by kind.
struct CostSum {
    ComebackCosts kinds;
    Money other; ///< any other cost, and what nobody broke down by kind

    Money total() const { return kinds.total() + other; }
    /// Adds what one job cost.
    void add(const Job& job) { add(CostSum{job.comebackCosts, job.comebackCost}); }
    void add(const CostSum& sum) {
        kinds.labour = kinds.labour + sum.kinds.labour;
        kinds.parts = kinds.parts + sum.kinds.parts;
        kinds.rental = kinds.rental + sum.kinds.rental;
        kinds.towing = kinds.towing + sum.kinds.towing;
        kinds.goodwill = kinds.goodwill + sum.kinds.goodwill;
        kinds.credit = kinds.credit + sum.kinds.credit;
        other = other + sum.other;
    }
    friend bool operator==(const CostSum&, const CostSum&) = default;
};

/// Mean cost of a comeback in minor units, of those with a cost; with fewer than five of them the mean of all
/// the shop's, which rests on more. Input: `priced` >= 0 comebacks that cost `cost` together.
inline double meanComebackCost(Money cost, int priced, double ofAll) {
    constexpr int kFewestPriced = 5;
    if (priced == 0 || (priced < kFewestPriced && ofAll > 0))
        return ofAll;
    return static_cast<double>(cost.minor) / priced;
}

} // namespace milehold::core
