// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/given_quote.h"

#include "core/shop/finding_list.h"

#include <algorithm>
#include <cmath>

namespace milehold::core {

namespace {

constexpr std::int32_t kWhole = 1'000'000;

std::optional<std::int32_t> millionths(const std::optional<double>& share) {
    return share ? std::optional(toMillionths(*share)) : std::nullopt;
}

} // namespace

std::int32_t toMillionths(double share) {
    return static_cast<std::int32_t>(std::lround(std::clamp(share, 0.0, 1.0) * kWhole));
}

double fromMillionths(std::int32_t millionths) {
    return static_cast<double>(millionths) / kWhole;
}

GivenQuote givenQuote(const Quote& quote, std::size_t path, VehicleId vehicle) {
    const PathQuote& told = quote.paths[path];
    GivenQuote given;
    given.vehicle = vehicle;
    given.path = told.path;
    given.date = quote.options.dataDate;
    given.horizon = Distance::from(told.horizon.at, quote.options.unit);
    given.chance = millionths(told.horizon.chance);
    given.lower = millionths(told.horizon.lower);
    given.upper = millionths(told.horizon.upper);
    given.atLeast = millionths(told.horizon.atLeast);
    given.worst = millionths(told.horizon.worst);
    given.lives = told.lives;
    given.comebacks = told.comebacks;
    given.yearly = quote.subject.yearly.perYear;
    given.price = told.price;
    given.sentence = told.sentence;
    return given;
}

Findings validate(const GivenQuote& quote) {
    FindingList found;
    if (quote.vehicle.isNull())
        found.error("vehicle", "A quote that is kept needs its vehicle.");
    if (quote.path.isNull())
        found.error("path", "A quote that is kept needs its repair path.");
    if (!quote.date.ok())
        found.error("date", "The day of the quote is not a date.");
    if (quote.horizon <= Distance())
        found.error("horizon", "The distance that the quote speaks of must be above 0.");
    for (const auto& share : {quote.chance, quote.lower, quote.upper, quote.atLeast, quote.worst})
        if (share && (*share < 0 || *share > kWhole))
            found.error("chance", "A chance lies between 0 and 100 %.");
    if (quote.chance &&
        ((quote.lower && *quote.lower > *quote.chance) || (quote.upper && *quote.upper < *quote.chance)))
        found.error("chance", "A chance lies within its limits.");
    if (quote.lives < 0 || quote.comebacks < 0 || quote.comebacks > quote.lives)
        found.error("lives", "A quote cannot rest on more comebacks than repairs.");
    if (quote.sentence.empty())
        found.error("sentence", "A quote that is kept says what was said.");
    return found.take();
}

} // namespace milehold::core
