// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/office_review.h"

#include "core/life/life_sums.h"
#include "core/quote/evidence_facts.h"
#include "core/quote/path_evidence.h"
#include "core/survival/compare.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <functional>
#include <future>
#include <memory>
#include <numeric>
#include <thread>
#include <utility>

namespace milehold::app {

namespace {

using ui::OfficeGroup;
using ui::OfficeQuery;
using ui::OfficeView;

constexpr double kLevel = 0.95;
constexpr std::size_t kWorthAThread = 5'000; ///< lives

/// One group at work: its lives as they lie side by side, and what they add up to.
struct Work {
    std::span<const core::LifeMark> marks;
    std::span<const std::uint32_t> rows; ///< of the lives in OfficeLives, in their order
    core::LifeSums sums;
    OfficeGroup group;
    core::Result<void> done;
};

core::Result<void> fit(Work& work, const OfficeLives& lives, const OfficeQuery& query) {
    OfficeGroup& group = work.group;
    group.evidence = work.sums.evidence;
    group.jobs.reserve(work.marks.size());
    for (std::size_t i = 0; i < work.marks.size(); ++i) {
        const core::LifeMark& mark = work.marks[i];
        if (!core::isCounted(mark, query.reading))
            continue;
        const core::LifePoint point = core::pointOf(mark, query.reading);
        group.jobs.push_back({lives.jobs()[work.rows[i]], point.at.in(query.unit), mark.cameBack,
                              !mark.cameBack && point.cameBack});
    }
    if (group.evidence.contributing == 0)
        return {}; // nothing but assumptions
    group.counts = work.sums.of(query.reading);
    if (group.counts.size() == 0)
        return {};
    auto curve = core::survivalCurve(group.counts, {.level = kLevel, .limits = query.limits});
    if (!curve)
        return core::failureOf(curve);
    group.curve = std::move(*curve);
    group.median = core::quantile(group.curve, 0.5);
    return {};
}

/// What may be said of a group at the mark, by the rules of quotes; the limits are those that were asked for.
core::Result<void> setMark(Work& work, const OfficeQuery& query, double mark) {
    OfficeGroup& group = work.group;
    if (group.curve.size() == 0)
        return {};
    if (query.limits == core::LimitMethod::Exact) {
        group.atMark = core::WatchedSet::pointOf(group.counts, group.curve, mark);
    } else {
        auto watched = core::WatchedSet::of(group.counts, kLevel);
        if (!watched)
            return core::failureOf(watched);
        group.atMark = watched->pointAt(mark);
    }
    group.atMark.at = std::llround(mark);
    if (query.limits != core::LimitMethod::Exact && !group.atMark.beyond) {
        const core::CurvePoint point = core::valueAt(group.curve, group.counts, mark);
        group.atMark.lower = point.lower;
        group.atMark.upper = point.upper;
    }
    if (query.reading != core::Reading::Known) { // what is put to the test is what is known
        group.readings = core::readingsAt(work.sums, mark);
        return {};
    }
    auto facts = core::evidenceFacts(work.sums, mark, group.atMark);
    if (!facts)
        return core::failureOf(facts);
    group.readings = facts->readings;
    group.claim = facts->claim;
    group.tipping = facts->tipping;
    return {};
}

/// Works on groups side by side; the first failure is what is said. On threads of its own: this runs on one
/// of the pool already, and waiting there for others of the pool could wait for ever.
core::Result<void> eachOf(std::span<Work* const> works,
                          const std::function<core::Result<void>(Work&)>& step) {
    std::atomic<std::size_t> next = 0;
    const auto run = [&] {
        for (std::size_t i = next++; i < works.size(); i = next++)
            works[i]->done = step(*works[i]);
    };
    std::size_t lives = 0;
    for (const Work* work : works)
        lives += work->marks.size();
    const std::size_t threads = std::min<std::size_t>(
        {works.size(), std::max(1U, std::thread::hardware_concurrency()), 1 + lives / kWorthAThread});
    std::vector<std::future<void>> others;
    for (std::size_t i = 1; i < threads; ++i)
        others.push_back(std::async(std::launch::async | std::launch::deferred, run));
    run();
    for (auto& other : others)
        other.get();
    for (const Work* work : works) {
        if (!work->done)
            return work->done;
    }
    return {};
}

/// The largest round distance at which two groups, or the only one, still watch five; else the largest at
/// which any life is watched.
double chooseMark(std::span<const Work> groups) {
    std::vector<double> reach; // how far each group watches five
    double longest = 0;
    for (const Work& work : groups) {
        const OfficeGroup& group = work.group;
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
std::optional<std::pair<const Work*, const Work*>> comparedGroups(std::span<Work* const> groups,
                                                                  const OfficeQuery& query) {
    std::vector<const Work*> chosen;
    for (const std::string& name : query.compared) {
        for (const Work* work : groups) {
            if (work->group.name == name && work->group.curve.size() > 0)
                chosen.push_back(work);
        }
    }
    for (const Work* work : groups) {
        const bool free = std::find(chosen.begin(), chosen.end(), work) == chosen.end();
        if (chosen.size() < 2 && free && work->group.curve.size() > 0)
            chosen.push_back(work);
    }
    if (chosen.size() < 2 || chosen[0] == chosen[1])
        return std::nullopt;
    return std::pair(chosen[0], chosen[1]);
}

/// Both groups as one table, for the permutation. Other ends only stop the watch, as for the test itself.
core::Lives together(const Work& first, const Work& second, const OfficeQuery& query) {
    core::Lives both;
    both.groupNames = {"first", "second"};
    std::uint32_t group = 0;
    for (const Work* work : {&first, &second}) {
        for (const core::LifeMark& mark : work->marks) {
            if (!core::isCounted(mark, query.reading))
                continue;
            const core::LifePoint point = core::pointOf(mark, query.reading);
            both.miles.push_back(point.at.in(query.unit));
            both.end.push_back(point.cameBack ? core::kCameBack : core::kHolding);
            both.entry.push_back(mark.entry.in(query.unit));
            both.group.push_back(group);
        }
        ++group;
    }
    return both;
}

core::Result<ui::OfficeComparison> compareTwo(const Work& firstWork, const Work& secondWork,
                                              const OfficeQuery& query, double mark) {
    const OfficeGroup& first = firstWork.group;
    const OfficeGroup& second = secondWork.group;
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
        if (const auto p = core::permutationP(together(firstWork, secondWork, query), {}))
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

core::Result<OfficeView> reviewLives(const OfficeLives& lives, const OfficeQuery& query) {
    const core::Facet* facet = core::facetById(query.facet);
    if (!facet)
        return core::fail(core::ErrorCode::InvalidInput, "no such way of grouping: " + query.facet);

    OfficeView view;
    view.query = query;
    view.level = kLevel;
    const OfficeLives::Groups& named = lives.groupsBy(*facet);
    const std::vector<std::uint32_t> passing = lives.rowsPassing(query);

    // Lives that add nothing to a curve have unseen distance all the same.
    std::vector<std::size_t> begins(named.names.size() + 1);
    int contributing = 0;
    for (const std::uint32_t row : passing) {
        const core::LifeMark& mark = lives.marks()[row];
        ++begins[named.of[row] + 1];
        contributing += mark.contributes ? 1 : 0;
        view.passedOver += mark.followed ? 0 : 1;
    }
    if (contributing == 0) {
        view.problem = lives.size() == 0 ? "no finished repair yet" : "no repair passes these filters";
        return view;
    }
    // Groups lie side by side, so that each of them is one span.
    std::partial_sum(begins.begin(), begins.end(), begins.begin());
    std::vector<core::LifeMark> marks(passing.size());
    std::vector<std::uint32_t> rows(passing.size());
    std::vector<std::size_t> next = begins;
    for (const std::uint32_t row : passing) {
        const std::size_t place = next[named.of[row]]++;
        marks[place] = lives.marks()[row];
        rows[place] = row;
    }
    std::vector<Work> works;
    for (std::size_t g = 0; g < named.names.size(); ++g) {
        const std::size_t count = begins[g + 1] - begins[g];
        if (count == 0)
            continue;
        Work& work = works.emplace_back();
        work.marks = std::span(marks).subspan(begins[g], count);
        work.rows = std::span(rows).subspan(begins[g], count);
        work.group.name = named.names[g];
    }
    std::vector<Work*> groups;
    for (Work& work : works)
        groups.push_back(&work);
    auto done = eachOf(groups, [&](Work& work) {
        work.sums = core::sumsOf(work.marks, query.unit);
        return fit(work, lives, query);
    });
    if (!done)
        return core::failureOf(done);
    view.mark = query.mark > 0 ? static_cast<double>(query.mark) : chooseMark(works);

    Work whole;
    whole.marks = marks;
    whole.rows = rows;
    std::vector<Work*> all = groups;
    if (works.size() > 1)
        all.insert(all.begin(), &whole);
    done = eachOf(all, [&](Work& work) -> core::Result<void> {
        if (&work == &whole) {
            std::vector<core::LifeSums> parts;
            for (const Work& part : works)
                parts.push_back(part.sums);
            whole.sums = core::merged(std::span<const core::LifeSums>(parts));
            if (auto fitted = fit(whole, lives, query); !fitted)
                return fitted;
        }
        return setMark(work, query, view.mark);
    });
    if (!done)
        return core::failureOf(done);
    if (works.size() == 1) { // all of them are that group
        whole.group = works.front().group;
        whole.group.name.clear();
    }

    std::stable_sort(groups.begin(), groups.end(), [](const Work* a, const Work* b) {
        if (a->group.name.empty() != b->group.name.empty())
            return b->group.name.empty();
        return a->group.lives() > b->group.lives();
    });
    if (const auto two = comparedGroups(groups, query)) {
        auto compared = compareTwo(*two->first, *two->second, query, view.mark);
        if (!compared)
            return core::failureOf(compared);
        view.comparison = std::move(*compared);
    }
    for (Work* work : groups)
        view.groups.push_back(std::move(work->group));
    view.all = std::move(whole.group);
    return view;
}

core::Result<OfficeView> reviewLives(std::span<const core::LifeRecord> lives, const core::Shelf& shelf,
                                     std::span<const core::Staff> staff, const OfficeQuery& query) {
    const OfficeLives once(lives, nullptr, std::make_shared<const core::Shelf>(shelf),
                           {staff.begin(), staff.end()});
    return reviewLives(once, query);
}

} // namespace milehold::app
