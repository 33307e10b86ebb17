// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_record.h"
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
    /// Names of the two groups to compare; empty when none are.
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
    std::string name; ///< blank: the records do not say
    int lives = 0;
    int comebacks = 0;
    int vehicles = 0;
    double known = 0;  ///< total, in the view's unit
    double unseen = 0; ///< total that nobody has checked
    int lost = 0;      ///< lives lost sight of
    core::Curve curve;
    core::Counts counts;
    core::CurveQuantile median;
    core::CurvePoint atMark;
    std::vector<OfficeJob> jobs;

    /// Known over known and unseen; empty when nothing was driven.
    std::optional<double> evidence() const {
        return known + unseen > 0 ? std::optional(known / (known + unseen)) : std::nullopt;
    }
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
    int lostSold = 0, lostDoNotCall = 0, lostNoContact = 0;
    int passedOver = 0; ///< repairs that add nothing, since they were not known quiet past their first sight
    std::optional<OfficeComparison> comparison;
    std::string problem; ///< why there is no curve, English; empty when there is one
};

/// Fewer watched than this and a figure is drawn faint and said with care.
inline constexpr double kFewWatched = 5;

} // namespace milehold::ui
