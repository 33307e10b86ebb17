// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/staff_store.h"

#include "core/shop/validation.h"
#include "storage/records/repository.h"

namespace milehold::storage {

core::Result<std::vector<core::Staff>> StaffStore::list() const {
    return readAll<core::Staff>(session_, "ORDER BY name, id");
}

core::Result<core::Staff> StaffStore::find(core::StaffId id) const {
    return findRecord<core::Staff>(session_, id.uuid);
}

core::Result<core::Staff> StaffStore::save(core::Staff staff) {
    if (auto allowed = refuseErrors("staff", core::validate(staff)); !allowed)
        return core::failureOf(allowed);
    return inOneUnit(session_, [&](UnitOfWork& unit) { return saveRecord(unit, session_, staff); });
}

core::Result<void> StaffStore::remove(core::StaffId id, std::int64_t revision) {
    return inOneUnit(session_, [&](UnitOfWork& unit) {
        return removeRecord<core::Staff>(unit, session_, id.uuid, revision);
    });
}

} // namespace milehold::storage
