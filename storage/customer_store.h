// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/people.h"

#include <cstddef>
#include <string_view>
#include <vector>

namespace milehold::storage {

class Session;

class CustomerStore {
public:
    explicit CustomerStore(Session& session) : session_(session) {}

    core::Result<core::Customer> find(core::CustomerId id) const;
    core::Result<std::vector<core::Customer>> find(const std::vector<core::CustomerId>& ids) const;
    /// Customers of whom some word of the name, or a phone number, begins with the text; by name.
    core::Result<std::vector<core::Customer>> search(std::string_view text, std::size_t limit) const;
    /// Inserts when `revision` is 0 (a null id is made), else replaces the stored row of that revision.
    /// Returns the row as stored. Errors: InvalidInput, Conflict, DiskProblem, OutcomeUnknown.
    core::Result<core::Customer> save(core::Customer customer);
    /// Errors: Conflict when the revision differs, InvalidInput when a vehicle names this customer.
    core::Result<void> remove(core::CustomerId id, std::int64_t revision);

private:
    Session& session_;
};

} // namespace milehold::storage
