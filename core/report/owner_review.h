// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"
#include "core/quantity/money.h"
#include "core/report/cost_sum.h"
#include "core/result.h"
#include "core/shop/job.h"
#include "core/shop/settings.h"
#include "core/survival/cox.h"
#include "core/warranty/terms.h"
#include "core/watch/early_warning.h"
#include "core/watch/funnel.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace milehold::core {

/// What some comebacks cost the shop.
struct CostRow {
    std::string name;
    int repairs = 0; ///< followed; 0 where the row is no group of repairs
    int comebacks = 0;
    CostSum costs;           ///< of those whose cost is recorded
    std::vector<JobId> jobs; ///< the repairs that did not hold
    int priced = 0;          ///< of the comebacks, how many have a cost
    Money cost() const { return costs.total(); }
};

struct ComebackReview {
    std::vector<CostRow> byPath, byReason; ///< most comebacks first
    std::vector<CostRow> byMonth;          ///< the last twelve, oldest first, `2031-04`
    int comebacks = 0;
    int priced = 0; ///< of those, how many have a cost
    CostSum costs;
    Money cost() const { return costs.total(); }
};

/// Comebacks and what they cost, by repair path, by what a person decided, and by month.
///
/// Input:  all lives; the jobs at which vehicles came back (others are passed over). A comeback that is known
/// from a call alone has no job yet, so no cost; one that led to several jobs cost what all of them did.
ComebackReview reviewComebacks(std::span<const LifeRecord> lives, std::span<const Job> jobs,
                               const FacetNames& names, Date today);

/// One way of looking at who did it or who supplied it, against what was to be expected of their own miles.
struct FunnelReview {
    Funnel funnel;
    std::vector<std::vector<JobId>> jobs; ///< behind each point
};

/// By technician, or by the supplier of the main part. The expected comebacks are those of all repairs of the
/// same paths over each one's own known distance, so that hard work is not held against anybody.
/// Errors: NotEstimable when nothing came back.
Result<FunnelReview> reviewPeople(std::span<const LifeRecord> lives, const FacetNames& names);
Result<FunnelReview> reviewSuppliers(std::span<const LifeRecord> lives, const FacetNames& names);

/// One part number at one revision under watch, or one lot of it.
struct WatchedPart {
    std::string name;
    int repairs = 0;
    int comebacks = 0;              ///< at an age at which others were still watched
    double expected = 0;            ///< of them, by now
    Date since;                     ///< day 0 of `points`
    std::vector<CusumPoint> points; ///< ends today
    double limit = 0;               ///< passed by a part in good order once in twenty years at most
    std::optional<double> alarmOn;  ///< day
    std::vector<JobId> jobs;
};

inline constexpr std::size_t kFewestToWatch = 8; ///< repairs with a part before it is watched

/// It adds to a curve and was watched from its delivery on, so that no comeback before its watch can be
/// missing beside the days that count for it.
bool isWatchedFromDelivery(const Life& life);
/// From its delivery to its comeback or the last day on which it was known quiet, in days since 1970-01-01.
WatchedJob watchedJob(const Life& life);

/// The running sum (core/watch/early_warning.h) of every phaser, valve, chain set and tensioner, each
/// revision by itself from its first repair on, against the repairs that fitted other revisions of the same
/// kind of part and not this one; against all repairs where fewer than five of those came back. Lives that
/// were not watched from their delivery on are left out. That any of several parts in good order passes its
/// limit in a year has the chance chanceOfAnyAlarm(kAlarmAYear, parts) at most. Nearest to its limit first.
/// Errors: NotEstimable when fewer than five came back in all; those of earlyWarning.
Result<std::vector<WatchedPart>> reviewParts(std::span<const LifeRecord> lives, const Shelf& shelf,
                                             Date today, const EarlyWarningOptions& options = {});

/// The same for every lot of such a part that was written down, each against the repairs with other lots, or
/// none, of the same kind of part: a bad lot shows before its revision does. Named `PH-2204 C, lot L77`.
Result<std::vector<WatchedPart>> reviewLots(std::span<const LifeRecord> lives, const Shelf& shelf, Date today,
                                            const EarlyWarningOptions& options = {});

/// The factors that go with how long a repair lasts, all at once.
struct FactorReview {
    struct Row {
        std::string name;
        std::string against; ///< what it is set against: `against Oil control valves`
        int repairs = 0;
        std::optional<double> ratio, lower, upper; ///< hazard ratio; empty: `why`
        std::string why;
        std::vector<JobId> jobs;
    };
    std::vector<Row> rows;
    double lives = 0, comebacks = 0;
    std::optional<double> proportionalP; ///< of all factors; small: a ratio does not hold all along
};

/// Cox regression on repair path, engine family, model year and yearly distance, vehicles as clusters. A
/// factor that cannot be told (nobody or everybody came back) is left out, with the reason in its row.
/// Errors: NotEstimable with the reason in words: fewer than ten comebacks.
Result<FactorReview> reviewFactors(std::span<const LifeRecord> lives, const FacetNames& names,
                                   DistanceUnit unit);

/// Terms of a warranty with what they would cost.
struct WarrantyRow {
    WarrantyTerms terms;
    bool own = false; ///< the shop's own terms
    WarrantyCost cost;
};

/// What the repairs of one path would cost under `WarrantyReview::pathTerms`.
struct WarrantyPath {
    std::string name;
    int repairs = 0, comebacks = 0;   ///< of those heard of again
    std::optional<WarrantyCost> cost; ///< empty: `why`
    std::string why;
    std::optional<double> ofPrice; ///< cost a repair over the path's price; empty without either
    std::vector<JobId> jobs;       ///< that came back
};

struct WarrantyReview {
    std::vector<WarrantyRow> rows;
    WarrantyTerms pathTerms;          ///< the shop's own terms, else two years
    std::vector<WarrantyPath> byPath; ///< most repairs first
    double drivers = 0;
    double meanCost = 0; ///< minor units, of a comeback whose cost is known; 0 when none is
    std::vector<JobId> jobs;
};

/// What share of repairs comes back within usual terms and within the shop's own, for its own drivers; and
/// within the shop's own path by path, where five or more came back. A path's comeback is
/// taken at the path's own mean cost where five or more have one, else at the shop's.
/// Errors: NotEstimable with the reason: fewer than five comebacks, no maximum of the likelihood.
Result<WarrantyReview> reviewWarranty(std::span<const LifeRecord> lives, const ComebackReview& costs,
                                      const ShopSettings& settings, const FacetNames& names,
                                      DistanceUnit unit, int replicates = 300);

} // namespace milehold::core
