// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/stale.h"

#include "core/shop/names.h"

#include <algorithm>

namespace milehold::core {

std::vector<std::string> staleFacts(const RepairPath& path, const Shelf& shelf, Date today) {
    std::vector<std::string> stale;
    const auto check = [&](const std::string& what, const Freshness& freshness) {
        if (!isStale(freshness, today))
            return;
        std::string sentence = what + " was to be checked again by " + toIso(*freshness.checkAgainBy) + ".";
        if (std::find(stale.begin(), stale.end(), sentence) == stale.end())
            stale.push_back(std::move(sentence));
    };
    const auto checkNotes = [&](ShelfSubject subject, const Uuid& id, const std::string& what) {
        for (const auto& note : shelf.notes)
            if (note.subject == subject && note.subjectId == id)
                check("A note on " + what, note.freshness);
    };
    check("This path", path.freshness);
    checkNotes(ShelfSubject::RepairPath, path.id.uuid, "this path");
    for (const auto& fitted : path.parts) {
        const PartNumber* part = shelf.find(newestOf(shelf, fitted.part));
        if (part == nullptr)
            continue;
        const std::string name = "part " + partLabel(*part);
        check("P" + name.substr(1), part->freshness);
        checkNotes(ShelfSubject::PartNumber, part->id.uuid, name);
    }
    if (path.calibration) {
        if (const Calibration* calibration = shelf.find(newestOf(shelf, *path.calibration))) {
            check("Calibration " + calibration->code, calibration->freshness);
            checkNotes(ShelfSubject::Calibration, calibration->id.uuid, "calibration " + calibration->code);
        }
    }
    return stale;
}

} // namespace milehold::core
