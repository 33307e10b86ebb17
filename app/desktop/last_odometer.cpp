// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/last_odometer.h"

#include "core/life/odometer.h"

#include <algorithm>
#include <cmath>

namespace milehold::app {

namespace {
constexpr double kDaysAYear = 365.25;
}

std::optional<ShownOdometer> lastOdometer(const core::VehicleHistory& history, core::Date today) {
    const core::Instruments instruments(history);
    std::optional<ShownOdometer> last;
    for (const core::Sighting& seen : core::sightings(history, instruments)) {
        if (seen.estimated || seen.date > today)
            continue;
        last = ShownOdometer{seen.date, seen.run};
    }
    if (!last)
        return last;
    // Back from what was really run to what today's instrument shows.
    const auto& replaced = instruments.replacements();
    const auto newest =
        std::find_if(replaced.rbegin(), replaced.rend(),
                     [today](const core::OdometerReading& reading) { return reading.date <= today; });
    if (newest != replaced.rend())
        last->shown = std::max(last->shown - *newest->resetOffset, core::Distance());
    return last;
}

core::Distance odometerOn(const ShownOdometer& last, core::Distance perYear, core::Date today) {
    const auto days = static_cast<double>(std::max<std::int64_t>(0, core::daysBetween(last.on, today)));
    const double driven = static_cast<double>(perYear.metres()) * days / kDaysAYear;
    return last.shown + core::Distance::fromMetres(std::llround(driven));
}

} // namespace milehold::app
