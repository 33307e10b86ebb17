// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"
#include "core/quote/given_quote.h"
#include "core/result.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace milehold::core {

/// Quotes whose chance lay in one range, and what became of the repairs.
struct QuoteBin {
    double from = 0, to = 1; ///< chances in (from, to]
    int quotes = 0;
    int comebacks = 0;              ///< before the distance quoted
    double quoted = 0;              ///< mean chance that was told
    double watched = 0;             ///< still watched at the distance quoted
    std::optional<double> observed; ///< by the same rules as a quote: empty where too few are watched
    std::optional<double> lower, upper;
    std::optional<double> toldLower, toldUpper; ///< mean limits told with it; empty where a quote had none
    std::vector<JobId> jobs;
    bool isLimit = false; ///< `quoted` is the mean lower limit: only that was told

    /// What was told and what was seen differ by no more than chance explains, in both: the limits of their
    /// difference hold 0. What was told is an estimate too, from few repairs, so an honest one need not lie
    /// within the limits of what was seen as often as these promise. The limits told are taken as if all
    /// quotes rested on the same repairs, which is the widest. Where too few are watched for an estimate,
    /// both pairs of limits overlap. A lower limit that was told is not above the limits seen. Empty without
    /// limits. Source: Zou & Donner 2008, Stat Med 27:1693 (limits of a difference from those of each).
    std::optional<bool> held() const;
};

/// How our own quotes have held.
struct QuoteCheck {
    int given = 0;              ///< all that are kept
    int waiting = 0;            ///< no such repair was delivered, or nothing is known of it yet
    int noEstimate = 0;         ///< only limits were told, no chance
    int repeated = 0;           ///< told again before the repair; the last one counts
    std::vector<QuoteBin> bins; ///< those with quotes, lowest chance first
    std::optional<QuoteBin> all;
    std::optional<QuoteBin> limits; ///< the repairs of `noEstimate`, against their lower limits
};

/// A quote without a job waits so long for a repair of its path.
inline constexpr int kQuoteWaitsDays = 180;

/// The life that a quote was about: that of its job, else of the first repair of this vehicle on its path
/// delivered from its date on within kQuoteWaitsDays; null without one.
const LifeRecord* lifeOf(const GivenQuote& quote, std::span<const LifeRecord> lives);

/// Compares what was told with what happened, in ranges of the chance that was told.
///
/// Every quote speaks of its own distance h, so each life is read in multiples of it: it came back at life/h,
/// or was watched to known/h. In each range the product limit at 1 with exact limits is what was seen; if the
/// quotes are right it differs from their mean chance by chance alone (QuoteBin::held). That takes the
/// leaving of lives within a range as unrelated to their chance, hence the narrow ranges. Errors:
/// InvalidInput for a level outside (0, 1). Source: Kaplan & Meier 1958, JASA 53:457; Fay, Brittain &
/// Proschan 2013, Biostatistics 14:723; comparing in ranges of the chance as in Harrell 2015, Regression
/// Modeling Strategies, section 19.3.
Result<QuoteCheck> checkQuotes(std::span<const GivenQuote> quotes, std::span<const LifeRecord> lives,
                               double level = 0.95);

} // namespace milehold::core
