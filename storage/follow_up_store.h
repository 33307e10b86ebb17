// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/calls.h"
#include "core/result.h"
#include "core/shop/job.h"

#include <vector>

namespace milehold::storage {

class Session;

class FollowUpStore {
public:
    explicit FollowUpStore(Session& session) : session_(session) {}

    core::Result<core::FollowUp> find(core::FollowUpId id) const;
    /// What was told about one job, oldest first.
    core::Result<std::vector<core::FollowUp>> ofJob(core::JobId job) const;
    /// Repairs whose customer may be called and has a phone, with what ranking needs to know of each. Left
    /// out is who was called on `today` already, or asked to be called on a later day (without one: within
    /// the week before). Of who asked and was not spoken to since, `promisedOn` tells the day. Voided calls
    /// count nowhere.
    core::Result<std::vector<core::CallFacts>> callFacts(core::Date today) const;
    /// Inserts when `revision` is 0 (a null id is made), else replaces the stored row of that revision; in
    /// the same transaction it keeps the odometer reading that the call brought, and marks the customer when
    /// the outcome is DoNotCall. Returns the row as stored. Errors: InvalidInput, Conflict, DiskProblem,
    /// OutcomeUnknown.
    core::Result<core::FollowUp> save(core::FollowUp followUp);
    /// What was logged by mistake stays with the reason and drops out of every figure, its odometer reading
    /// too; a customer's do-not-call mark stays. Errors: InvalidInput for a blank reason, Conflict, NotFound.
    core::Result<core::FollowUp> voidCall(core::FollowUpId id, std::int64_t revision, std::string reason);
    /// Removes the row and its odometer reading; a customer's do-not-call mark stays.
    core::Result<void> remove(core::FollowUpId id, std::int64_t revision);

private:
    Session& session_;
};

} // namespace milehold::storage
