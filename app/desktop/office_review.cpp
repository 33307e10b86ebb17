// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/office_review.h"

#include "core/quote/evidence_facts.h"
#include "core/quote/path_evidence.h"
#include "core/survival/compare.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

namespace milehold::app {

namespace {

using ui::OfficeGroup;
using ui::OfficeQuery;
using ui::OfficeView;

constexpr double kLevel = 0.95;

/// Lives of one group as they lie side by side, with the columns that estimators read.
struct GroupLives {
    std::span<const core::Life> lives;
    core::Lives columns;
    std::vector<std::size_t> rows;
};

core::Result<OfficeGroup> fit(const std::string& name, const GroupLives& lives, const OfficeQuery& query) {
    OfficeGroup group;
    group.name = name;
    auto evidence = core::evidenceOf(lives.lives, query.unit);
    if (!evidence)
        return core::failureOf(evidence);
    group.evidence = *evidence;
    for (std::size_t i = 0; i < lives.rows.size(); ++i) {
        const core::Life& life = lives.lives[lives.rows[i]];
        group.jobs.push_back({life.job, lives.columns.miles[i], life.cameBack(),
                              !life.cameBack() && lives.columns.cameBack(i)});
    }
    if (group.evidence.contributing == 0)
        return group; // nothing but assumptions
    group.counts = core::countsOfAll(lives.columns);
    if (group.counts.size() == 0)
        return group;
    auto curve = core::survivalCurve(group.counts, {.level = kLevel, .limits = query.limits});
    if (!curve)
        return core::failureOf(curve);
    group.curve = std::move(*curve);
    group.median = core::quantile(group.curve, 0.5);
    return group;
}

/// What may be said of a group at the mark, by the rules of quotes; the limits are those that were asked for.
core::Result<void> setMark(OfficeGroup& group, const GroupLives& lives, const OfficeQuery& query,
                           double mark) {
    if (group.curve.size() == 0)
        return {};
    auto watched = core::WatchedSet::of(group.counts, kLevel);
    if (!watched)
        return core::failureOf(watched);
    group.atMark = watched->pointAt(mark);
    group.atMark.at = std::llround(mark);
    if (query.limits != core::LimitMethod::Exact && !group.atMark.beyond) {
        const core::CurvePoint point = core::valueAt(group.curve, group.counts, mark);
        group.atMark.lower = point.lower;
        group.atMark.upper = point.upper;
    }
    if (query.reading != core::Reading::Known) { // what is put to the test is what is known
        auto readings = core::readingCurves(lives.lives, query.unit, kLevel);
        if (!readings)
            return core::failureOf(readings);
        group.readings = readings->at(mark);
        return {};
    }
    auto facts = core::evidenceFacts(lives.lives, query.unit, mark, group.atMark);
    if (!facts)
        return core::failureOf(facts);
    group.readings = facts->readings;
    group.claim = facts->claim;
    group.tipping = facts->tipping;
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
            if (group.curve.watched[i] >= core::kFewest)
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

/// The two groups that are asked for, else the first two with a curve; empty when there are no two.
std::optional<std::pair<std::size_t, std::size_t>> comparedGroups(const OfficeView& view) {
    std::vector<std::size_t> chosen;
    for (const std::string& name : view.query.compared) {
        for (std::size_t i = 0; i < view.groups.size(); ++i) {
            if (view.groups[i].name == name && view.groups[i].curve.size() > 0)
                chosen.push_back(i);
        }
    }
    for (std::size_t i = 0; i < view.groups.size() && chosen.size() < 2; ++i) {
        const bool free = std::find(chosen.begin(), chosen.end(), i) == chosen.end();
        if (free && view.groups[i].curve.size() > 0)
            chosen.push_back(i);
    }
    if (chosen.size() < 2 || chosen[0] == chosen[1])
        return std::nullopt;
    return std::pair(chosen[0], chosen[1]);
}

/// Both groups as one table, for the permutation.
core::Lives together(const core::Lives& first, const core::Lives& second) {
    core::Lives both;
    both.groupNames = {"first", "second"};
    std::uint32_t group = 0;
    for (const core::Lives* lives : {&first, &second}) {
        for (std::size_t i = 0; i < lives->size(); ++i) {
            both.miles.push_back(lives->miles[i]);
            // Other ends only stop the watch, as for the test itself.
            both.end.push_back(lives->cameBack(i) ? core::kCameBack : core::kHolding);
            both.entry.push_back(lives->entryOf(i));
            both.group.push_back(group);
        }
        ++group;
    }
    return both;
}

core::Result<ui::OfficeComparison> compareTwo(const OfficeGroup& first, const OfficeGroup& second,
                                              const core::Lives& firstLives, const core::Lives& secondLives,
                                              double mark) {
    ui::OfficeComparison two;
    two.first = first.name;
    two.second = second.name;
    const auto difference = core::survivalDifference(core::valueAt(first.curve, first.counts, mark),
                                                     core::valueAt(second.curve, second.counts, mark));
    if (difference) {
        two.difference = difference->value;
        two.lower = difference->lower;
        two.upper = difference->upper;
    }
    two.beyond = first.atMark.beyond || second.atMark.beyond;
    const auto test = core::compare({{first.counts, second.counts}});
    if (!test)
        return core::failureOf(test);
    two.tooFew = test->evidence == core::CompareEvidence::TooLittle;
    if (test->evidence == core::CompareEvidence::Enough)
        two.p = test->p;
    if (test->evidence == core::CompareEvidence::Permutation) {
        // Without a permutation p there is no p: the chi-square is not to be trusted here.
        if (const auto p = core::permutationP(together(firstLives, secondLives), {}))
            two.p = *p;
        two.permutation = true;
    }
    return two;
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

    // Groups lie side by side, so that each of them is one span.
    std::map<std::string, std::vector<core::Life>> byName;
    int contributing = 0;
    const core::FacetNames facetNames{shelf, staff};
    for (const core::LifeRecord& record : lives) {
        if (!passes(record, query))
            continue;
        // Lives that add nothing to a curve have unseen distance all the same.
        byName[facet->valueOf(record, facetNames)].push_back(record.life);
        contributing += record.life.contributes ? 1 : 0;
        view.passedOver += record.life.isFollowed() ? 0 : 1;
    }
    if (contributing == 0) {
        view.problem = lives.empty() ? "no finished repair yet" : "no repair passes these filters";
        return view;
    }
    std::vector<core::Life> all;
    std::vector<std::pair<std::string, std::size_t>> names; // with where each begins
    for (const auto& [name, group] : byName) {
        names.emplace_back(name, all.size());
        all.insert(all.end(), group.begin(), group.end());
    }
    const auto livesOf = [&](std::span<const core::Life> span) {
        core::LifeColumns columns = core::toColumns(span, query.unit, query.reading);
        return GroupLives{span, std::move(columns.lives), std::move(columns.rows)};
    };
    std::vector<GroupLives> groupLives;
    for (std::size_t g = 0; g < names.size(); ++g) {
        const std::size_t begin = names[g].second;
        const std::size_t end = g + 1 < names.size() ? names[g + 1].second : all.size();
        groupLives.push_back(livesOf(std::span(all).subspan(begin, end - begin)));
        auto group = fit(names[g].first, groupLives.back(), query);
        if (!group)
            return core::failureOf(group);
        view.groups.push_back(std::move(*group));
    }
    const GroupLives allLives = livesOf(all);
    auto whole = fit({}, allLives, query);
    if (!whole)
        return core::failureOf(whole);
    view.all = std::move(*whole);

    view.mark = query.mark > 0 ? static_cast<double>(query.mark) : chooseMark(view.groups);
    for (std::size_t g = 0; g < view.groups.size(); ++g) {
        if (auto done = setMark(view.groups[g], groupLives[g], query, view.mark); !done)
            return core::failureOf(done);
    }
    if (auto done = setMark(view.all, allLives, query, view.mark); !done)
        return core::failureOf(done);

    std::vector<std::size_t> order(view.groups.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        const OfficeGroup& first = view.groups[a];
        const OfficeGroup& second = view.groups[b];
        if (first.name.empty() != second.name.empty())
            return second.name.empty();
        return first.lives() > second.lives();
    });
    std::vector<OfficeGroup> sorted;
    std::vector<const core::Lives*> columns;
    for (const std::size_t g : order) {
        sorted.push_back(std::move(view.groups[g]));
        columns.push_back(&groupLives[g].columns);
    }
    view.groups = std::move(sorted);

    if (const auto two = comparedGroups(view)) {
        const auto& [a, b] = *two;
        auto compared = compareTwo(view.groups[a], view.groups[b], *columns[a], *columns[b], view.mark);
        if (!compared)
            return core::failureOf(compared);
        view.comparison = std::move(*compared);
    }
    return view;
}

} // namespace milehold::app
