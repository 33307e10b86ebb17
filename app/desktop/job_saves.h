// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/save_history.h"
#include "storage/job_store.h"

namespace milehold::app {

/// Saves a bundle. A save that was cut off is looked up by its key before anybody is told: when it arrived,
/// it counts as saved. Runs on the database's thread.
core::Result<storage::JobBundle> saveBundle(storage::Shop& shop, storage::JobBundle bundle);

/// What to undo after a save: a job that was new is voided with a reason that says so, one that was changed
/// gets back what it held. Undo and redo refuse (Conflict) what somebody else changed since.
ReversibleSave undoOfNewJob(const QString& what, const storage::JobBundle& saved);
ReversibleSave undoOfChange(const QString& what, const storage::JobBundle& before,
                            const storage::JobBundle& after);
/// `job` as it is after it was voided, or after its void was taken back.
ReversibleSave undoOfVoid(const QString& what, const core::Job& job);
ReversibleSave undoOfUnvoid(const QString& what, const core::Job& job, const std::string& reason);

ReversibleSave undoOfReading(const QString& what, const core::OdometerReading& reading);

} // namespace milehold::app
