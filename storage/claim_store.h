// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/job.h"

#include <vector>

namespace milehold::storage {

class Session;
class Shop;

/// The claims to suppliers, which stand on the jobs at which vehicles came back.
class ClaimStore {
public:
    /// Of an open shop, on its thread.
    explicit ClaimStore(Shop& shop);

    /// Every job with a claim in whatever state, voided jobs left out, by deadline.
    core::Result<std::vector<core::Job>> all() const;
    /// How many claims wait to be filed and have their deadline on this day or before it.
    core::Result<int> dueBy(core::Date day) const;

private:
    Session& session_;
};

} // namespace milehold::storage
