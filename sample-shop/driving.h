// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/distance.h"
#include "sample-shop/catalogue.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace milehold::sample {

inline constexpr Day kNever = std::numeric_limits<Day>::max() / 4;

/// How one vehicle gathers miles, and what its instrument shows.
struct Driving {
    Day start = 0;
    double startMiles = 0;
    double perDay = 30;
    Day changeDay = kNever; ///< from here on it is driven otherwise: another job, another driver
    double perDayLater = 30;
    Day swapDay = kNever; ///< a Sunday, so that no visit or call falls on it
    std::int64_t swapOffset = 0;

    double milesAt(Day day) const {
        const double before = static_cast<double>(std::min(day, changeDay) - start);
        const double after = static_cast<double>(std::max<Day>(0, day - changeDay));
        return startMiles + before * perDay + after * perDayLater;
    }
    /// First day on which so many miles have been driven.
    Day dayAt(double miles) const {
        const double atChange =
            changeDay >= kNever ? std::numeric_limits<double>::infinity() : milesAt(changeDay);
        const double days = miles <= atChange
                                ? (miles - startMiles) / perDay
                                : static_cast<double>(changeDay - start) + (miles - atChange) / perDayLater;
        return start + static_cast<Day>(std::ceil(std::min(days, 1e7)));
    }
    /// What the instrument shows on a day when the vehicle has really run so many miles.
    core::Distance shown(double miles, Day day) const {
        const auto whole = static_cast<std::int64_t>(std::floor(miles));
        return core::Distance::miles(day >= swapDay ? whole - swapOffset : whole);
    }
    core::Distance shownOn(Day day) const { return shown(milesAt(day), day); }
};

} // namespace milehold::sample
