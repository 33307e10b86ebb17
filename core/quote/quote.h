// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"
#include "core/quantity/money.h"
#include "core/quote/evidence_facts.h"
#include "core/quote/like_paths.h"
#include "core/quote/projection.h"
#include "core/quote/quiet_cost.h"
#include "core/quote/quote_point.h"
#include "core/result.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"
#include "core/survival/curve.h"

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace milehold::core {

/// The vehicle that is quoted for.
struct QuoteSubject {
    std::optional<EngineFamilyId> family;
    std::optional<int> modelYear;
    std::string calibration; ///< on its computer now, blank when not read
    YearlyDistance yearly;
    /// A repair that this vehicle already had and that still holds: the conditional form is quoted for its
    /// path.
    std::optional<LifeRecord> running;
};

struct QuoteOptions {
    DistanceUnit unit = DistanceUnit::Miles;
    double level = 0.95;
    std::vector<int> years = {1, 2, 3, 5};
    std::vector<std::int64_t> marks = {20'000, 30'000, 40'000, 60'000, 80'000, 100'000}; ///< in `unit`
    std::int64_t horizon =
        0;         ///< in `unit`, what the sentence speaks of; 0: two years of this driver, to the thousand
    Date dataDate; ///< "today" of the records
    /// Go on by a model where too few are watched; every figure of it says so.
    bool project = false;
};

/// How much a quote may say.
enum class QuoteStrength : std::uint8_t {
    NoJobs,     ///< nothing recorded on this path for this engine
    TooFew,     ///< fewer than five were followed: counts and limits, said to be too few
    LimitsOnly, ///< no estimate at the horizon: limits there, or nothing beyond the last watched distance
    Full,       ///< an estimate with limits at the horizon
};

/// One applicable repair path in a quote, with all the figures that its page shows and the jobs behind them.
struct PathQuote {
    RepairPathId path;
    std::string name;
    Money price;
    Hours hours;
    QuoteStrength strength = QuoteStrength::NoJobs;
    int lives = 0;       ///< came back, or were quiet some way past delivery: the n of every figure
    int notFollowed = 0; ///< recorded too, but nothing is known of them since delivery
    int elsewhere = 0;   ///< of `lives`, how many another shop repaired
    int comebacks = 0;
    int datedBySight =
        0;               ///< of those, how many are dated by where the shop saw them, not by where they began
    int pastHorizon = 0; ///< followed past the horizon
    double known = 0;    ///< total known distance, in the unit
    double unseen = 0;   ///< total unseen distance
    double longestWatched = 0;      ///< in the unit
    std::optional<double> evidence; ///< known / (known + unseen); empty when nothing was watched
    std::optional<double> median;   ///< distance by which half came back, when reached
    std::vector<QuotePoint> byYear;
    std::vector<QuotePoint> byMark;
    QuotePoint horizon;
    /// Given that this vehicle's own repair on this path already ran so far; empty when there is none.
    std::optional<double> alreadyRun;
    std::vector<QuotePoint> conditional; ///< the marks still ahead of it
    /// As far again as the horizon from where it is now, to the thousand.
    std::optional<QuotePoint> conditionalHorizon;
    /// Price for each 1,000 quiet within the horizon; empty with the reason where it cannot be said honestly.
    std::optional<QuietCost> cost;
    std::string noCost;
    /// Beside the raw figure where that rests on fewer than five comebacks; empty with the reason.
    std::optional<PooledFigure> pooled;
    std::string notPooled;       ///< blank where pooling was not called for
    EvidenceFacts evidenceFacts; ///< at the horizon; `known`, `unseen` and `evidence` are its sums
    std::optional<QuoteProjection> projection; ///< only when asked for; empty with the reason
    std::string notProjected;
    Curve curve;          ///< known reading, exact limits; empty when NoJobs
    std::string sentence; ///< English, by the rules of an honest quote
    std::string spoken;   ///< of that: n, comebacks and the chance, to be said to a customer
    std::string details;  ///< of that: what else belongs to it
    std::vector<std::string> cautions;
    std::vector<std::string> stale; ///< facts on the shelf that want checking
    std::vector<JobId> jobs;        ///< the records behind every figure
};

struct Quote {
    QuoteSubject subject;
    QuoteOptions options;
    std::vector<PathQuote> paths; ///< applicable and active, cheapest first
    std::string note;             ///< why there is none, when there is none
};

/// Quotes every path of the shelf that applies to the vehicle, from the lives of the same engine family.
///
/// Input:  all lives of the shop (other families are passed over), the shelf, the shop's rules.
/// Errors: InvalidInput for a level outside (0, 1), a horizon or mark that is not positive, a date that is
/// none. Source: Fay, Brittain & Proschan 2013, Biostatistics 14:723 (limits); wording rules: our own.
Result<Quote> makeQuote(std::span<const LifeRecord> lives, const QuoteSubject& subject, const Shelf& shelf,
                        const ShopSettings& settings, const QuoteOptions& options);

/// True when the path may be used on this engine family, model year and calibration.
bool applies(const RepairPath& path, const QuoteSubject& subject, const Shelf& shelf);

} // namespace milehold::core
