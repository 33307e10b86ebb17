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
    void add(const Job& job) {
        kinds.labour = kinds.labour + job.comebackCosts.labour;
        kinds.parts = kinds.parts + job.comebackCosts.parts;
        kinds.rental = kinds.rental + job.comebackCosts.rental;
        kinds.towing = kinds.towing + job.comebackCosts.towing;
        kinds.goodwill = kinds.goodwill + job.comebackCosts.goodwill;
        kinds.credit = kinds.credit + job.comebackCosts.credit;
        other = other + job.comebackCost;
    }
    friend bool operator==(const CostSum&, const CostSum&) = default;
};

} // namespace milehold::core
