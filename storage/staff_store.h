// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/people.h"

#include <vector>

namespace milehold::storage {

class Session;

/// The people who work in the shop. Nobody who has worked on a job is removed: set `active` to false.
class StaffStore {
public:
    explicit StaffStore(Session& session) : session_(session) {}

    /// Everybody, active or not, by name.
    core::Result<std::vector<core::Staff>> list() const;
    core::Result<core::Staff> find(core::StaffId id) const;
    /// Inserts when `revision` is 0 (a null id is made), else replaces the stored row of that revision.
    /// Returns the row as stored. Errors: InvalidInput, Conflict, DiskProblem, OutcomeUnknown.
    core::Result<core::Staff> save(core::Staff staff);
    /// Errors: Conflict when the revision differs, InvalidInput when a record names this person.
    core::Result<void> remove(core::StaffId id, std::int64_t revision);

private:
    Session& session_;
};

} // namespace milehold::storage
