// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/office_review.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <unordered_set>
#include <utility>

namespace milehold::app {

namespace {

using ui::OfficeGroup;
using ui::OfficeQuery;
using ui::OfficeView;

constexpr double kLevel = 0.95;

/// Adds what the records themselves say; the curve and its jobs come from the columns.
void tally(OfficeGroup& group, const core::Life& life, core::DistanceUnit unit) {
    ++group.lives;
    if (life.cameBack())
        ++group.comebacks;
    if (life.state == core::LifeState::LostSight)
        ++group.lost;
    group.known += (life.known - life.entry).in(unit);
    group.unseen += life.unseen.in(unit);
}

core::Result<void> fit(OfficeGroup& group, core::Counts counts, const OfficeQuery& query) {
    group.counts = std::move(counts);
    if (group.counts.size() == 0)
        return {};
    auto curve = core::survivalCurve(group.counts, {.level = kLevel, .limits = query.limits});
    if (!curve)
        return core::failureOf(curve);
    group.curve = std::move(*curve);
    group.median = core::quantile(group.curve, 0.5);
    return {};
}

/// The largest round distance at which two groups, or the only one, still watch five; else the largest at
/// which any life is watched.
double chooseMark(const std::vector<OfficeGroup>& groups) {
    std::vector<double> reach; // how far each group watches five
    double longest = 0;
    for (const OfficeGroup& group : groups) {
        longest = std::max(longest, group.curve.longestWatched);
        double far = 0;
        for (std::size_t i = 0; i < group.curve.size(); ++i) {
            if (group.curve.watched[i] >= ui::kFewWatched)
                far = group.curve.miles[i];
        }
        reach.push_back(far);
    }
    std::sort(reach.begin(), reach.end(), std::greater<>());
    double target = reach.empty() ? 0 : reach[std::min<std::size_t>(1, reach.size() - 1)];
    if (target <= 0)
        target = reach.empty() ? 0 : reach.front();
    if (target <= 0)
        target = longest;
    for (const double step : {10'000.0, 1'000.0, 100.0}) {
        if (target >= step)
            return std::floor(target / step) * step;
    }
    return std::floor(target);
}

void countVehicles(OfficeGroup& group, std::vector<core::VehicleId> vehicles) {
    std::sort(vehicles.begin(), vehicles.end());
    group.vehicles = static_cast<int>(std::unique(vehicles.begin(), vehicles.end()) - vehicles.begin());
}

} // namespace

bool passes(const core::LifeRecord& record, const OfficeQuery& query) {
    if (query.family && record.family != query.family)
        return false;
    if (query.path && record.life.path != query.path)
        return false;
    if (query.technician && record.technician != query.technician)
        return false;
    if ((query.fromYear || query.toYear) && !record.modelYear)
        return false;
    if (query.fromYear && *record.modelYear < *query.fromYear)
        return false;
    if (query.toYear && *record.modelYear > *query.toYear)
        return false;
    if (query.from && record.life.repairedOn < *query.from)
        return false;
    return !query.to || record.life.repairedOn <= *query.to;
}

core::Result<OfficeView> reviewLives(std::span<const core::LifeRecord> lives, const core::Shelf& shelf,
                                     std::span<const core::Staff> staff, const OfficeQuery& query) {
    const core::Facet* facet = core::facetById(query.facet);
    if (!facet)
        return core::fail(core::ErrorCode::InvalidInput, "no such way of grouping: " + query.facet);

    OfficeView view;
    view.query = query;
    view.level = kLevel;

    std::vector<core::Life> chosen;
    std::vector<std::string> names;
    const core::FacetNames facetNames{shelf, staff};
    for (const core::LifeRecord& record : lives) {
        if (!passes(record, query))
            continue;
        if (!record.life.contributes) {
            ++view.passedOver;
            continue;
        }
        chosen.push_back(record.life);
        names.push_back(facet->valueOf(record, facetNames));
        if (record.life.state == core::LifeState::LostSight) {
            if (record.life.lostReason == core::LostReason::Sold)
                ++view.lostSold;
            if (record.life.lostReason == core::LostReason::DoNotCall)
                ++view.lostDoNotCall;
            if (record.life.lostReason == core::LostReason::NoContact)
                ++view.lostNoContact;
        }
    }
    if (chosen.empty()) {
        view.problem = lives.empty() ? "no finished repair yet" : "no repair passes these filters";
        return view;
    }

    std::map<std::string, std::size_t> groupOf;
    std::vector<std::vector<core::VehicleId>> vehicles;
    std::vector<core::VehicleId> allVehicles;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
        const auto [place, isNew] = groupOf.try_emplace(names[i], view.groups.size());
        if (isNew) {
            view.groups.emplace_back().name = names[i];
            vehicles.emplace_back();
        }
        tally(view.groups[place->second], chosen[i], query.unit);
        tally(view.all, chosen[i], query.unit);
        vehicles[place->second].push_back(chosen[i].vehicle);
        allVehicles.push_back(chosen[i].vehicle);
    }
    for (std::size_t g = 0; g < view.groups.size(); ++g)
        countVehicles(view.groups[g], std::move(vehicles[g]));
    countVehicles(view.all, std::move(allVehicles));

    core::LifeColumns columns = core::toColumns(chosen, query.unit, query.reading);
    if (auto whole = fit(view.all, core::countsOfAll(columns.lives), query); !whole)
        return core::failureOf(whole);
    columns.lives.group.clear();
    columns.lives.groupNames.clear();
    for (std::size_t i = 0; i < columns.rows.size(); ++i) {
        const core::Life& life = chosen[columns.rows[i]];
        const std::size_t place = groupOf.at(names[columns.rows[i]]);
        columns.lives.group.push_back(static_cast<std::uint32_t>(place));
        view.groups[place].jobs.push_back({life.job, columns.lives.miles[i], life.cameBack(),
                                           !life.cameBack() && columns.lives.cameBack(i)});
        view.all.jobs.push_back(view.groups[place].jobs.back());
    }
    for (const OfficeGroup& group : view.groups)
        columns.lives.groupNames.push_back(group.name);
    auto counts = core::countsByGroup(columns.lives);
    for (std::size_t g = 0; g < view.groups.size(); ++g) {
        if (auto fitted = fit(view.groups[g], std::move(counts[g]), query); !fitted)
            return core::failureOf(fitted);
    }

    view.mark = query.mark > 0 ? static_cast<double>(query.mark) : chooseMark(view.groups);
    for (OfficeGroup& group : view.groups)
        group.atMark = core::valueAt(group.curve, group.counts, view.mark);
    view.all.atMark = core::valueAt(view.all.curve, view.all.counts, view.mark);

    std::stable_sort(view.groups.begin(), view.groups.end(), [](const OfficeGroup& a, const OfficeGroup& b) {
        if (a.name.empty() != b.name.empty())
            return b.name.empty();
        return a.lives != b.lives ? a.lives > b.lives : a.name < b.name;
    });
    return view;
}

} // namespace milehold::app
