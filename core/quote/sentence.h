// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quote/quote.h"

#include <optional>
#include <string>

namespace milehold::core {

/// Comebacks that are dated by sight alone, where the sight lies past a distance and the last quiet before
/// it: nobody knows whether they had come back by then.
struct Straddling {
    int count = 0;
    double from = 0, to = 0; ///< in the unit: the least last quiet and the furthest sight of them
};

/// What the sentence says beyond the figures of the quote itself.
struct SentenceFacts {
    YearlyDistance yearly;
    QuoteOptions options;
    Straddling straddling; ///< the horizon
    /// The furthest thousand at which five are still watched, and what may be said there; where the horizon
    /// is beyond.
    std::optional<QuotePoint> stillWatched;
};

/// What a quote says of one path, in English.
struct QuoteSentence {
    std::string whole;
    std::string spoken; ///< of that: n, comebacks and the chance
    std::string rest;   ///< of that: what else belongs to it
};

/// The sentence of a quote in English: n, comebacks, known distance, how many were followed past the horizon,
/// the estimate with two-sided limits or why there is none, the worst reading where unseen distance matters,
/// the last watched distance and the date of the records. `path` has all its other fields.
QuoteSentence quoteSentence(const PathQuote& path, const SentenceFacts& facts);

} // namespace milehold::core
