// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/stale_facts.h"

#include "core/shop/names.h"

#include <algorithm>

namespace milehold::core {

std::vector<StaleFact> wantsChecking(const Shelf& shelf, Date today) {
    std::vector<StaleFact> facts;
    for (const RepairPath& path : shelf.paths)
        if (path.active && isStale(path.freshness, today))
            facts.push_back({ShelfSubject::RepairPath, path.id.uuid, false, path.name, path.freshness});
    for (const PartNumber& part : shelf.parts)
        if (isStale(part.freshness, today) && newestOf(shelf, part.id) == part.id)
            facts.push_back({ShelfSubject::PartNumber, part.id.uuid, false, partLabel(part), part.freshness});
    for (const Calibration& calibration : shelf.calibrations)
        if (isStale(calibration.freshness, today) && newestOf(shelf, calibration.id) == calibration.id)
            facts.push_back({ShelfSubject::Calibration, calibration.id.uuid, false, calibration.code,
                             calibration.freshness});
    for (const ShelfNote& note : shelf.notes)
        if (isStale(note.freshness, today))
            facts.push_back({note.subject, note.id.uuid, true, note.text, note.freshness});
    std::stable_sort(facts.begin(), facts.end(), [](const StaleFact& a, const StaleFact& b) {
        return *a.freshness.checkAgainBy < *b.freshness.checkAgainBy;
    });
    return facts;
}

Freshness checkedToday(const Freshness& freshness, Date today) {
    std::int64_t days = kUsualDaysBetweenChecks;
    if (freshness.checkedOn && freshness.checkAgainBy && freshness.checkedOn->ok() &&
        freshness.checkAgainBy->ok() && *freshness.checkedOn < *freshness.checkAgainBy)
        days = daysBetween(*freshness.checkedOn, *freshness.checkAgainBy);
    return {today, addDays(today, days)};
}

} // namespace milehold::core
