// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/quantity/distance.h"
#include "core/quantity/money.h"
#include "core/quote/quote.h"
#include "core/shop/finding.h"
#include "core/shop/id.h"

#include <cstdint>
#include <optional>
#include <string>

namespace milehold::core {

using GivenQuoteId = Id<struct GivenQuoteTag>;

/// A share as a whole number of millionths, so that files hold no fractions.
std::int32_t toMillionths(double share);
double fromMillionths(std::int32_t millionths);

/// What a customer was told about one repair path, kept so that it can be compared with what happened.
struct GivenQuote {
    GivenQuoteId id;
    VehicleId vehicle;
    RepairPathId path;
    std::optional<JobId> job; ///< the repair that it was given for, once there is one
    Date date;
    std::optional<StaffId> by;
    Distance horizon;                   ///< the distance since the repair that it speaks of
    std::optional<std::int32_t> chance; ///< millionths; empty when no estimate was given
    std::optional<std::int32_t> lower, upper;
    std::optional<std::int32_t> atLeast; ///< before the first comeback, one-sided
    std::optional<std::int32_t> worst;
    int lives = 0; ///< it rested on
    int comebacks = 0;
    Distance yearly; ///< the driver's, as reckoned
    Money price;
    std::string sentence; ///< as it was said
    std::int64_t revision = 0;
    friend bool operator==(const GivenQuote&, const GivenQuote&) = default;
};

/// What is kept of one path of a quote that was given for a vehicle.
GivenQuote givenQuote(const Quote& quote, std::size_t path, VehicleId vehicle);

/// The rules of a kept quote: a vehicle, a path, a date, a horizon, shares between 0 and 1 with the estimate
/// inside its limits, a sentence.
Findings validate(const GivenQuote& quote);

} // namespace milehold::core
