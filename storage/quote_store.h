// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quote/given_quote.h"
#include "core/result.h"

#include <vector>

namespace milehold::storage {

class Session;
class Shop;

/// The quotes that customers were given.
class QuoteStore {
public:
    /// Of an open shop, on its thread.
    explicit QuoteStore(Shop& shop);

    core::Result<core::GivenQuote> find(core::GivenQuoteId id) const;
    /// Every quote of the shop, oldest first.
    core::Result<std::vector<core::GivenQuote>> all() const;
    core::Result<std::vector<core::GivenQuote>> ofVehicle(core::VehicleId vehicle) const;
    /// Inserts when `revision` is 0 (a null id is made), else replaces the stored row of that revision. The
    /// same words about the same path on the same day are one quote: that one is returned as it stands. One
    /// without a job gets the vehicle's repair that is in work, when there is exactly one. Returns the row as
    /// stored. Errors: InvalidInput (the detail names the fields), Conflict, DiskProblem, OutcomeUnknown.
    core::Result<core::GivenQuote> save(core::GivenQuote quote);
    /// Takes back what was kept by mistake.
    core::Result<void> remove(core::GivenQuoteId id, std::int64_t revision);

private:
    Session& session_;
};

} // namespace milehold::storage
