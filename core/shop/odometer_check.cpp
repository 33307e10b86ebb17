// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/odometer_check.h"

namespace milehold::core {

namespace {

constexpr std::int64_t kMostMilesADay = 250;

bool isJump(Date from, Distance runFrom, Date to, Distance runTo) {
    const std::int64_t days = daysBetween(from, to);
    return days > 0 && runTo - runFrom > Distance::miles(kMostMilesADay * days);
}

} // namespace

void checkDistance(const StatedDistance& stated, std::span<const Sighting> others, FindingList& found) {
    if (!stated.date.ok())
        return;
    // The furthest that was seen before and the least that was seen after, read by the shop or only told.
    const Sighting* furthestBefore[2] = {nullptr, nullptr};
    const Sighting* leastAfter[2] = {nullptr, nullptr};
    const Sighting* lastBefore = nullptr;
    const Sighting* firstAfter = nullptr;
    for (const auto& other : others) { // by date, then distance
        const std::size_t soft = other.estimated || other.told || stated.estimated || stated.told ? 1 : 0;
        if (other.date < stated.date) {
            if (furthestBefore[soft] == nullptr || other.run > furthestBefore[soft]->run)
                furthestBefore[soft] = &other;
            if (!other.estimated)
                lastBefore = &other;
        } else if (other.date > stated.date) {
            if (leastAfter[soft] == nullptr || other.run < leastAfter[soft]->run)
                leastAfter[soft] = &other;
            if (!other.estimated && firstAfter == nullptr)
                firstAfter = &other;
        }
    }
    const auto fall = [&](Severity severity, const Sighting& other, const char* relation) {
        found.add(stated.field, severity,
                  std::string("The odometer falls with time: it is ") + relation + " the one of " +
                      toIso(other.date) +
                      ". Correct one of them, or record that the instrument was replaced.");
    };
    for (const std::size_t soft : {0U, 1U}) {
        const Severity severity = soft == 0 ? Severity::Error : Severity::Warning;
        if (furthestBefore[soft] != nullptr && furthestBefore[soft]->run > stated.run)
            fall(severity, *furthestBefore[soft], "less than");
        if (leastAfter[soft] != nullptr && leastAfter[soft]->run < stated.run)
            fall(severity, *leastAfter[soft], "more than");
    }
    const auto jump = [&](const Sighting& other) {
        found.warning(stated.field, "That is more than 250 miles (402 km) a day between " +
                                        toIso(other.date) + " and " + toIso(stated.date) +
                                        ". Please read the odometer again.");
    };
    if (stated.estimated)
        return;
    if (lastBefore != nullptr && isJump(lastBefore->date, lastBefore->run, stated.date, stated.run))
        jump(*lastBefore);
    if (firstAfter != nullptr && isJump(stated.date, stated.run, firstAfter->date, firstAfter->run))
        jump(*firstAfter);
}

} // namespace milehold::core
