// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/applies.h"

#include <algorithm>

namespace milehold::core {

namespace {

bool isWithin(std::optional<int> year, std::optional<int> from, std::optional<int> to) {
    if (!year)
        return !from && !to;
    return (!from || *year >= *from) && (!to || *year <= *to);
}

/// True when `code` names this calibration or one that follows from it.
bool isAtLeast(std::string_view code, CalibrationId id, const Shelf& shelf) {
    for (const auto& calibration : shelf.calibrations) {
        if (calibration.code != code)
            continue;
        const Calibration* at = &calibration;
        for (std::size_t step = 0; at != nullptr && step <= shelf.calibrations.size(); ++step) {
            if (at->id == id)
                return true;
            at = at->supersedes ? shelf.find(*at->supersedes) : nullptr;
        }
    }
    return false;
}

} // namespace

bool appliesTo(const RepairPath& path, std::optional<EngineFamilyId> family, std::optional<int> modelYear,
               std::string_view calibration, const Shelf& shelf) {
    if (!family)
        return false;
    return std::any_of(path.applies.begin(), path.applies.end(), [&](const PathApplies& entry) {
        return entry.family == *family && isWithin(modelYear, entry.fromYear, entry.toYear) &&
               (!entry.needsCalibration || isAtLeast(calibration, *entry.needsCalibration, shelf)) &&
               (!entry.excludesCalibration || !isAtLeast(calibration, *entry.excludesCalibration, shelf));
    });
}

} // namespace milehold::core
