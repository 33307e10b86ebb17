// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/odometer.h"
#include "core/shop/finding_list.h"

#include <span>
#include <string>

namespace milehold::core {

/// A distance that a record is about to state, and the field that it stands in.
struct StatedDistance {
    std::string field;
    Date date;
    Distance run; ///< really run, replacements of the instrument added back
    bool estimated = false;
    bool told = false;
};

/// Finds a fall with time and a jump of more than 250 miles a day against what else is known of the vehicle.
///
/// A fall between readings that the shop took itself is an error, with the way out in its words; one against
/// an estimate or against a word on the phone is a warning. Readings of the same day are in no order and not
/// compared. Source: common practice, no published source.
void checkDistance(const StatedDistance& stated, std::span<const Sighting> others, FindingList& found);

} // namespace milehold::core
