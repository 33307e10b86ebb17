// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/records/read_shelf.h"

#include "storage/records/repository.h"

namespace milehold::storage {

core::Result<core::Shelf> readShelf(Session& session) {
    core::Shelf shelf;
    core::Result<void> outcome;
    const auto read = [&]<class T>(std::vector<T>& into, std::string_view order) {
        if (!outcome)
            return;
        auto records = readAll<T>(session, order);
        if (!records) {
            outcome = core::failureOf(records);
        } else {
            into = std::move(*records);
        }
    };
    read(shelf.families, "ORDER BY name, id");
    read(shelf.paths, "ORDER BY name, id");
    read(shelf.parts, "ORDER BY number, revision_label, id");
    read(shelf.calibrations, "ORDER BY code, module, id");
    read(shelf.notes, "ORDER BY rowid");
    if (!outcome)
        return core::failureOf(outcome);
    return shelf;
}

core::Result<std::shared_ptr<const core::Shelf>> shelfOfUnit(Session& session) {
    UnitOfWork* const unit = session.unit();
    if (unit != nullptr && unit->keptShelf() != nullptr)
        return unit->keptShelf();
    auto read = readShelf(session);
    if (!read)
        return core::failureOf(read);
    auto shelf = std::make_shared<const core::Shelf>(std::move(*read));
    if (unit != nullptr)
        unit->keepShelf(shelf);
    return shelf;
}

} // namespace milehold::storage
