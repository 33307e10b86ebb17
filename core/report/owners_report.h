// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"
#include "core/quantity/money.h"
#include "core/quote/evidence_facts.h"
#include "core/quote/quote_point.h"
#include "core/report/cost_sum.h"
#include "core/result.h"
#include "core/shop/job.h"
#include "core/shop/settings.h"
#include "core/survival/curve.h"

#include <chrono>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace milehold::core {

struct ReportOptions {
    std::chrono::year_month month; ///< whose jobs and comebacks are listed
    DistanceUnit unit = DistanceUnit::Miles;
    std::int64_t mark = 40'000; ///< in `unit`: the distance at which paths are set side by side
    double level = 0.95;
    Date dataDate; ///< the curves rest on all records up to this day
};

/// One repair path in the report. Figures that the records do not carry are empty.
struct ReportPath {
    std::string name;
    int lives = 0;       ///< repairs that were followed: the n of every figure
    int notFollowed = 0; ///< recorded too, but nothing is known of them since delivery
    int comebacks = 0;
    int comebacksThisMonth = 0;
    double known = 0; ///< in the unit
    double unseen = 0;
    std::optional<double> evidence; ///< known / (known + unseen)
    std::optional<double> median;
    QuotePoint atMark; ///< known reading, by the rules of an honest quote
    std::optional<double> worstAtMark;
    bool tooFew = false; ///< fewer than five followed, or fewer than five watched at the mark: limits only
    EvidenceFacts facts; ///< at the mark
    Curve curve;
    std::vector<JobId> jobs;
};

/// A vehicle that came back in the month.
struct ReportComeback {
    std::int64_t jobNumber = 0; ///< the job that did not hold
    std::string pathName;
    std::string vehicleLabel;
    double distance = 0;         ///< known distance since that repair, in the unit
    std::optional<double> until; ///< set when only an interval is known
    std::string cause;
    Money cost;
};

struct OwnersReport {
    ReportOptions options;
    std::string shopName;
    int delivered = 0; ///< repairs delivered in the month
    Money revenue;     ///< of those
    std::vector<ReportComeback> comebacks;
    Money comebackCost;
    CostSum costs;                 ///< the same by kind
    std::vector<ReportPath> paths; ///< most lives first
    double known = 0;
    double unseen = 0;
    std::optional<double> evidence;
    EvidenceFacts facts; ///< of all repairs, at the mark
    int holding = 0, cameBack = 0, lostSight = 0, endedOtherwise = 0;
    std::vector<std::string> stale; ///< facts on the shelf that want checking
};

/// The owner's month: what was delivered, what came back and what it cost, and how long each path lasts.
///
/// Input:  all lives of the shop; the jobs written up or delivered in the month (others are passed over).
/// Errors: InvalidInput for a month or date that is none, a mark that is not positive, a level outside (0,
/// 1).
Result<OwnersReport> makeOwnersReport(std::span<const LifeRecord> lives, std::span<const Job> jobs,
                                      const Shelf& shelf, const ShopSettings& settings,
                                      const ReportOptions& options);

} // namespace milehold::core
