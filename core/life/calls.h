// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"
#include "core/result.h"
#include "core/survival/counts.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace milehold::core {

/// What the book says of a customer whom one may call about a repair.
struct CallFacts {
    JobId job;
    int unanswered = 0;                       ///< calls without an answer since the last news
    std::optional<int> warrantyMonths;        ///< of the job; both empty: no warranty
    std::optional<Distance> warrantyDistance; ///< since the repair
    std::optional<Date> promisedOn{};         ///< the customer asked to be called from this day on
};

struct CallOptions {
    DistanceUnit unit = DistanceUnit::Miles;
    double level = 0.95;
    Distance horizon = Distance::miles(40'000); ///< where the limits are to be sharpened
    Date today;
    double minutesACall = 4; ///< of one call, answered or not
    /// How much narrower the limits would have to become to be worth as much as finding one comeback within
    /// warranty.
    double warrantyWorth = 0.02;
};

/// A call that is worth making, and why.
struct RankedCall {
    JobId job;
    VehicleId vehicle;
    double shrink = 0;      ///< expected narrowing of the limits at the horizon, as a share (0.01: one point)
    double chanceNoisy = 0; ///< that the answer is "noise is back", by the path's own curve
    bool warrantyOpen = false;
    std::optional<Date> warrantyEnds;
    std::optional<Date> promisedOn{}; ///< as in CallFacts
    double minutes = 0;               ///< expected until somebody answers
    double worthAMinute = 0;          ///< what calls are ranked by
    std::string reason;               ///< one English sentence
};

/// Whom to call, the most worth a minute first.
///
/// Input:  all lives of the shop; facts of the customers who may be called. Lives that ended, were sold or
/// must not be
///         called, and those without unseen distance or facts, are passed over. A path's curve is that of its
///         lives on one engine family, as quotes read it.
/// Method: a life last known quiet at c that has run to m unseen is quiet there with chance S(m)/S(c), else
/// it failed
///         at the path's own comebacks in between, each with its mass. For each answer the exact limits at
///         the horizon are worked out anew; their expected width is compared with the width now. Nothing
///         about the vehicle but its distance counts: to call where trouble is suspected would bend the
///         curve. Where the warranty is open, the chance of finding a comeback in time adds `warrantyWorth`
///         of it. The chance that a call is answered after k that were not is 1/(k + 2).
/// Errors: InvalidInput for a level outside (0, 1), a horizon or minutes that are not positive, a day that is
/// none. Cost:   O(D^3) a path with D comebacks before the horizon, whatever the number of lives. Source:
/// Raiffa & Schlaifer 1961, Applied Statistical Decision Theory (preposterior analysis); Fay, Brittain &
///         Proschan 2013, Biostatistics 14:723 (limits); Laplace 1774 (the chance of an answer).
Result<std::vector<RankedCall>> rankCalls(std::span<const LifeRecord> lives, std::span<const CallFacts> facts,
                                          const FacetNames& names, const CallOptions& options);

/// What one call would do for the exact limits at a distance.
struct CallValue {
    double widthNow = 0;
    double chanceQuiet = 0; ///< S(to) / S(from), `to` no further than the horizon
    double widthIfQuiet = 0;
    double expectedWidth = 0;
    double shrink() const { return widthNow - expectedWidth; }
};

/// Works out the value of calls about lives of one curve.
class CallValuer {
public:
    /// `counts` are those of the known reading.
    CallValuer(const Counts& counts, double horizon, double level);

    /// For a life that is watched to `from` now and would be known quiet to `to`.
    CallValue valueOf(double from, double to);
    /// S(to) / S(from), not cut at the horizon.
    double chanceQuiet(double from, double to) const;

private:
    double widthWith(std::size_t begin, std::size_t end, std::optional<std::size_t> failed,
                     bool beyond) const;
    double survivalAt(double miles) const;

    double horizon_;
    double tail_;
    std::vector<double> all_;      ///< every comeback mileage
    std::vector<double> survival_; ///< after each of them
    std::vector<double> miles_;    ///< comeback mileages up to the horizon
    std::vector<double> watched_;
    std::vector<double> comebacks_;
    double watchedBeyond_ = 0; ///< just before the next mileage after the horizon; 0 when there is none
    double widthNow_ = 0;
};

} // namespace milehold::core
