// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/shelf.h"

namespace milehold::storage {

class Session;

/// Engine families, repair paths, part numbers, calibrations and their notes.
///
/// Each save inserts when `revision` is 0 (a null id is made), else replaces the stored row of that revision,
/// and returns the row as stored. Errors: InvalidInput, Conflict, DiskProblem, OutcomeUnknown.
class ShelfStore {
public:
    explicit ShelfStore(Session& session) : session_(session) {}

    /// The whole shelf, each list by name (notes by the order in which they were written).
    core::Result<core::Shelf> load() const;

    core::Result<core::EngineFamily> save(core::EngineFamily family);
    core::Result<core::RepairPath> save(core::RepairPath path);
    core::Result<core::PartNumber> save(core::PartNumber part);
    core::Result<core::Calibration> save(core::Calibration calibration);
    core::Result<core::ShelfNote> save(core::ShelfNote note);

    /// Errors: Conflict when the revision differs, InvalidInput when a record names the row.
    core::Result<void> remove(core::EngineFamilyId id, std::int64_t revision);
    core::Result<void> remove(core::RepairPathId id, std::int64_t revision);
    core::Result<void> remove(core::PartNumberId id, std::int64_t revision);
    core::Result<void> remove(core::CalibrationId id, std::int64_t revision);
    core::Result<void> remove(core::ShelfNoteId id, std::int64_t revision);

private:
    Session& session_;
};

} // namespace milehold::storage
