// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/shelf.h"

#include <algorithm>

namespace milehold::core {

namespace {

template <class Record, class Key> const Record* findIn(const std::vector<Record>& records, Key id) {
    const auto found =
        std::find_if(records.begin(), records.end(), [&](const auto& r) { return r.id == id; });
    return found == records.end() ? nullptr : &*found;
}

/// The latest released direct successor; a release that is not dated counts as the earliest.
const Calibration* successorOf(const Shelf& shelf, CalibrationId id) {
    const Calibration* latest = nullptr;
    for (const auto& candidate : shelf.calibrations) {
        if (candidate.supersedes != id || candidate.id == id)
            continue;
        if (latest == nullptr || candidate.releasedOn > latest->releasedOn ||
            (candidate.releasedOn == latest->releasedOn && candidate.code > latest->code))
            latest = &candidate;
    }
    return latest;
}

} // namespace

bool isStale(const Freshness& freshness, Date today) {
    return freshness.checkAgainBy && *freshness.checkAgainBy < today;
}

const EngineFamily* Shelf::find(EngineFamilyId id) const {
    return findIn(families, id);
}
const RepairPath* Shelf::find(RepairPathId id) const {
    return findIn(paths, id);
}
const PartNumber* Shelf::find(PartNumberId id) const {
    return findIn(parts, id);
}
const Calibration* Shelf::find(CalibrationId id) const {
    return findIn(calibrations, id);
}

PartNumberId newestOf(const Shelf& shelf, PartNumberId part) {
    PartNumberId newest = part;
    // A stored cycle is a defect that validation refuses; here it must not hang, so there are at most as many
    // steps as parts, and a walk that never ends changes nothing.
    for (std::size_t step = 0; step <= shelf.parts.size(); ++step) {
        const PartNumber* current = shelf.find(newest);
        if (current == nullptr || !current->supersededBy || shelf.find(*current->supersededBy) == nullptr)
            return newest;
        newest = *current->supersededBy;
    }
    return part;
}

CalibrationId newestOf(const Shelf& shelf, CalibrationId calibration) {
    CalibrationId newest = calibration;
    for (std::size_t step = 0; step <= shelf.calibrations.size(); ++step) {
        const Calibration* next = successorOf(shelf, newest);
        if (next == nullptr)
            return newest;
        newest = next->id;
    }
    return calibration;
}

} // namespace milehold::core
