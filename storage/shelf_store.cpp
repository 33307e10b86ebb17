// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/shelf_store.h"

#include "core/shop/validation.h"
#include "storage/records/read_shelf.h"
#include "storage/records/repository.h"

namespace milehold::storage {

namespace {

/// Validates against the stored shelf and saves, in one unit of work.
template <class T> core::Result<T> saveOnShelf(Session& session, T item) {
    return inOneUnit(session, [&](UnitOfWork& unit) -> core::Result<T> {
        core::Findings findings;
        if constexpr (requires { core::validate(item); }) {
            findings = core::validate(item);
        } else {
            auto shelf = readShelf(session);
            if (!shelf)
                return core::failureOf(shelf);
            findings = core::validate(item, *shelf);
        }
        if (auto allowed = refuseErrors(recordTable<T>().name, findings); !allowed)
            return core::failureOf(allowed);
        return saveRecord(unit, session, item);
    });
}

template <class T>
core::Result<void> removeFromShelf(Session& session, const core::Uuid& id, std::int64_t revision) {
    return inOneUnit(session, [&](UnitOfWork& unit) { return removeRecord<T>(unit, session, id, revision); });
}

} // namespace

core::Result<core::Shelf> ShelfStore::load() const {
    return readShelf(session_);
}

core::Result<core::EngineFamily> ShelfStore::save(core::EngineFamily family) {
    return saveOnShelf(session_, std::move(family));
}

core::Result<core::RepairPath> ShelfStore::save(core::RepairPath path) {
    for (auto& applies : path.applies) {
        if (applies.id.isNull())
            applies.id = makeId<core::PathAppliesId>();
    }
    return saveOnShelf(session_, std::move(path));
}

core::Result<core::PartNumber> ShelfStore::save(core::PartNumber part) {
    return saveOnShelf(session_, std::move(part));
}

core::Result<core::Calibration> ShelfStore::save(core::Calibration calibration) {
    return saveOnShelf(session_, std::move(calibration));
}

core::Result<core::ShelfNote> ShelfStore::save(core::ShelfNote note) {
    return saveOnShelf(session_, std::move(note));
}

core::Result<void> ShelfStore::remove(core::EngineFamilyId id, std::int64_t revision) {
    return removeFromShelf<core::EngineFamily>(session_, id.uuid, revision);
}

core::Result<void> ShelfStore::remove(core::RepairPathId id, std::int64_t revision) {
    return removeFromShelf<core::RepairPath>(session_, id.uuid, revision);
}

core::Result<void> ShelfStore::remove(core::PartNumberId id, std::int64_t revision) {
    return removeFromShelf<core::PartNumber>(session_, id.uuid, revision);
}

core::Result<void> ShelfStore::remove(core::CalibrationId id, std::int64_t revision) {
    return removeFromShelf<core::Calibration>(session_, id.uuid, revision);
}

core::Result<void> ShelfStore::remove(core::ShelfNoteId id, std::int64_t revision) {
    return removeFromShelf<core::ShelfNote>(session_, id.uuid, revision);
}

} // namespace milehold::storage
