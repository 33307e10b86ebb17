// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/life/life.h"

#include <vector>

namespace milehold::core {

/// The instruments that a vehicle has had: turns what one showed into how far the vehicle had really run.
class Instruments {
public:
    explicit Instruments(const VehicleHistory& history);

    /// Distance really run when the instrument showed `shown` on `date`. On the day of a replacement both
    /// instruments were there: the one is taken that puts the reading closer to the replacement.
    Distance runAt(Date date, Distance shown) const;
    /// The replacements, in order of date.
    const std::vector<OdometerReading>& replacements() const { return replacements_; }

private:
    std::vector<OdometerReading> replacements_;
};

/// One sight of the odometer.
struct Sighting {
    Date date;
    Distance run;           ///< really run, replacements of the instrument added back
    bool estimated = false; ///< told as an estimate
    bool told = false;      ///< told in a call, not read by the shop
    RecordRef source;
    friend bool operator==(const Sighting&, const Sighting&) = default;
};

/// Every sight of the odometer by date, then by distance: readings, jobs in and out, calls. Voided jobs and
/// calls about them are left out, and so are records whose date is none.
std::vector<Sighting> sightings(const VehicleHistory& history, const Instruments& instruments);

} // namespace milehold::core
