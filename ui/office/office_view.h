// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/evidence.h"
#include "core/life/life_record.h"
#include "core/life/readings.h"
#include "core/quote/quote.h"
#include "core/survival/counts.h"
#include "core/survival/curve.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace milehold::ui {

/// What the owner asked the Office for. Two equal queries over the same lives have the same view.
struct OfficeQuery {
    std::string facet = "path"; ///< what the curves are grouped by, an id of the facet table
    std::optional<core::EngineFamilyId> family;
    std::optional<core::RepairPathId> path;
    std::optional<int> fromYear; ///< model years, both ends inclusive
    std::optional<int> toYear;
    std::optional<core::StaffId> technician;
    std::optional<core::Date> from; ///< delivered, both ends inclusive
    std::optional<core::Date> to;
    core::Reading reading = core::Reading::Known;
    core::LimitMethod limits = core::LimitMethod::Exact;
    core::DistanceUnit unit = core::DistanceUnit::Miles;
    std::int64_t mark = 0; ///< in `unit`, where chances are compared; 0: chosen from what is watched
    /// Names of the two groups to compare; empty: the two with most repairs.
    std::vector<std::string> compared;

    bool filters() const { return family || path || fromYear || toYear || technician || from || to; }
    friend bool operator==(const OfficeQuery&, const OfficeQuery&) = default;
};

/// One repair behind a figure.
struct OfficeJob {
    core::JobId job;
    double miles = 0;         ///< in the view's unit and reading: at the comeback, or when last watched
    bool cameBack = false;    ///< it really did
    bool assumedBack = false; ///< the worst reading lets it fail there
};

/// One curve of the Office with the figures beside it.
struct OfficeGroup {
    std::string name;        ///< blank: the records do not say
    core::Evidence evidence; ///< states, lost by reason, known and unseen distance in the view's unit
    core::Curve curve;       ///< empty when nothing was watched
    core::Counts counts;
    core::CurveQuantile median;
    core::QuotePoint atMark;      ///< by the rules of an honest quote; limits by the query's method
    core::ThreeReadings readings; ///< at the mark
    std::optional<double> claim; ///< known reading only: the round chance at the mark that is put to the test
    std::optional<core::TippingPoint> tipping; ///< of that claim
    std::vector<OfficeJob> jobs;

    int lives() const { return static_cast<int>(evidence.followed); }
    int comebacks() const { return static_cast<int>(evidence.cameBack + evidence.neverHeld); }
    int lost() const { return static_cast<int>(evidence.lostSight); }
};

/// Two groups side by side at the mark.
struct OfficeComparison {
    std::string first;
    std::string second;
    std::optional<double> difference; ///< S of the first less S of the second at the mark
    std::optional<double> lower;
    std::optional<double> upper;
    std::optional<double> p;  ///< log-rank; empty when too few for one, whatever the reason
    bool permutation = false; ///< p is by permutation, since comebacks are few
    bool tooFew = false;      ///< fewer than 5 comebacks in both, or a group of fewer than 3: words only
    bool beyond = false;      ///< one of them is not watched as far as the mark
};

struct OfficeView {
    OfficeQuery query;
    double mark = 0; ///< in the query's unit; 0 when nothing is watched
    double level = 0.95;
    std::vector<OfficeGroup> groups; ///< most lives first, "not recorded" last
    OfficeGroup all;                 ///< every life that passed the filters, one group
    int passedOver = 0; ///< repairs that add nothing, since nothing is known of them past their first sight
    std::optional<OfficeComparison> comparison;
    std::string problem; ///< why there is no curve, English; empty when there is one
};

} // namespace milehold::ui
