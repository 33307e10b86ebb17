// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/fill.h"

#include <algorithm>

namespace milehold::core {

namespace {

/// A job that holds nothing but what this path fills in.
Job filledBy(const RepairPath& path, const Shelf& shelf, const ShopSettings& settings,
             const EngineFamily* family) {
    Job filled;
    filled.path = path.id;
    filled.lines = path.lines;
    for (const auto& part : path.parts) {
        const bool isThere = family == nullptr || !part.position ||
                             std::find(family->positions.begin(), family->positions.end(), *part.position) !=
                                 family->positions.end();
        if (isThere)
            filled.parts.push_back({newestOf(shelf, part.part), part.position, "", part.quantity, Money{}});
    }
    if (path.calibration)
        if (const Calibration* newest = shelf.find(newestOf(shelf, *path.calibration)))
            filled.calibrationAfter = newest->code;
    filled.hours = path.hours;
    filled.labourPrice = path.price;
    filled.warrantyMonths = settings.warrantyMonths;
    filled.warrantyDistance = settings.warrantyDistance;
    return filled;
}

} // namespace

Job withPath(const Job& job, const RepairPath& chosen, const Shelf& shelf, const ShopSettings& settings,
             const EngineFamily* family) {
    const Job blank{};
    const RepairPath* before = job.path ? shelf.find(*job.path) : nullptr;
    const Job untouched = before == nullptr ? blank : filledBy(*before, shelf, settings, family);
    const Job wanted = filledBy(chosen, shelf, settings, family);
    Job result = job;
    result.path = chosen.id;
    const auto fill = [&](auto member) {
        if (job.*member == blank.*member || job.*member == untouched.*member)
            result.*member = wanted.*member;
    };
    fill(&Job::lines);
    fill(&Job::parts);
    fill(&Job::calibrationAfter);
    fill(&Job::hours);
    fill(&Job::labourPrice);
    fill(&Job::warrantyMonths);
    fill(&Job::warrantyDistance);
    return result;
}

} // namespace milehold::core
