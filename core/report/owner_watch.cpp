// SPDX-License-Identifier: GPL-3.0-or-later
// Early warning and factors of the owner's review.
#include "core/report/owner_review.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace milehold::core {

namespace {

constexpr double kDaysInYear = 365.25;
constexpr double kFewestComebacks = 5;
constexpr double kFewestForFactors = 10;

double dayNumber(Date date) {
    return static_cast<double>(std::chrono::sys_days(date).time_since_epoch().count());
}

struct Watch {
    std::string name;
    Component component = Component::Other;
    std::vector<const LifeRecord*> records;
};

/// Nelson-Aalen over days since the repair, as steps.
struct HazardSteps {
    std::vector<double> days, hazard;
    double comebacks = 0; ///< that it rests on

    double operator()(double age) const {
        const auto next = std::upper_bound(days.begin(), days.end(), age);
        return next == days.begin() ? 0 : hazard[static_cast<std::size_t>(next - days.begin()) - 1];
    }
};

struct Span {
    double enters = 0, leaves = 0;
    bool cameBack = false;
};

Span spanOf(const Life& life) {
    const double from = dayNumber(life.repairedOn);
    return {from, std::max(from, dayNumber(life.lastKnownOn)), life.cameBack()};
}

/// Empty when the reference has too few comebacks to expect anything from.
std::optional<HazardSteps> hazardOf(const std::vector<const LifeRecord*>& records) {
    Lives lives;
    double comebacks = 0;
    for (const LifeRecord* record : records) {
        const Span span = spanOf(record->life);
        lives.miles.push_back(span.leaves - span.enters);
        lives.end.push_back(span.cameBack ? kCameBack : kHolding);
        comebacks += span.cameBack;
    }
    if (comebacks < kFewestComebacks)
        return std::nullopt;
    const Counts counts = countsOfAll(lives);
    const auto watched = counts.watched();
    HazardSteps steps;
    steps.comebacks = comebacks;
    double sum = 0;
    for (std::size_t i = 0; i < counts.size(); ++i) {
        if (counts.comebacks[i] <= 0)
            continue;
        sum += counts.comebacks[i] / watched[i];
        // One that never held is expected from the first day on, since hazards are 0 at 0.
        steps.days.push_back(std::max(counts.miles[i], 0.5));
        steps.hazard.push_back(sum);
    }
    return steps;
}

bool isWatched(Component component) {
    return component == Component::Phaser || component == Component::OilControlValve ||
           component == Component::ChainSet || component == Component::Tensioner;
}

Result<WatchedPart> watchOf(const Watch& watch, const HazardSteps& hazard, Date today, int runs) {
    WatchedPart part;
    part.name = watch.name;
    double origin = dayNumber(today);
    for (const LifeRecord* record : watch.records)
        origin = std::min(origin, dayNumber(record->life.repairedOn));
    part.since = Date(std::chrono::sys_days(std::chrono::days(static_cast<int>(origin))));
    const double end = std::max(1.0, dayNumber(today) - origin);
    std::vector<WatchedJob> jobs;
    std::vector<double> enters;
    for (const LifeRecord* record : watch.records) {
        const Span span = spanOf(record->life);
        WatchedJob job{span.enters - origin, span.leaves - origin, span.cameBack};
        // One that never held stands half a day after its delivery, as in the hazard.
        if (job.cameBack)
            job.leaves = std::max(job.leaves, job.enters + 0.5);
        jobs.push_back(job);
        enters.push_back(job.enters);
        ++part.repairs;
        part.comebacks += span.cameBack;
        part.expected += hazard(job.leaves - job.enters);
        part.jobs.push_back(record->life.job);
    }
    std::vector<double> days;
    for (double day = 0; day < end; day += std::max(7.0, end / 200))
        days.push_back(day);
    days.push_back(end);
    CusumLimitOptions options;
    options.horizon = end;
    options.falseAlarm = 1 - std::pow(1 - kAlarmAYear, end / kDaysInYear);
    options.falseAlarm = std::clamp(options.falseAlarm, 0.001, 0.5);
    options.runs = runs;
    options.comebacksBehind = hazard.comebacks;
    auto points = cusum(jobs, hazard, options.hazardRatio, days);
    if (!points)
        return failureOf(points);
    part.points = std::move(*points);
    const auto limit = cusumLimit(enters, hazard, options);
    if (!limit)
        return failureOf(limit);
    part.limit = *limit;
    part.alarmOn = alarmDay(part.points, part.limit);
    return part;
}

/// A factor that may be tried: a column of 0 and 1, or of a number.
struct Candidate {
    FactorReview::Row row;
    std::vector<double> column;
};

void addKinds(std::vector<Candidate>& candidates, const std::vector<const LifeRecord*>& records,
              const FacetNames& names, const char* facetId) {
    const Facet* facet = facetById(facetId);
    std::map<std::string, std::vector<std::size_t>> kinds;
    for (std::size_t i = 0; i < records.size(); ++i)
        kinds[facet->valueOf(*records[i], names)].push_back(i);
    kinds.erase(std::string());
    if (kinds.size() < 2)
        return;
    const auto most = std::max_element(kinds.begin(), kinds.end(), [](const auto& a, const auto& b) {
        return a.second.size() < b.second.size();
    });
    for (const auto& [name, rows] : kinds) {
        if (name == most->first)
            continue;
        Candidate candidate;
        candidate.row.name = name;
        candidate.row.against = "against " + most->first;
        candidate.row.repairs = static_cast<int>(rows.size());
        candidate.column.assign(records.size(), 0);
        int comebacks = 0;
        for (const std::size_t row : rows) {
            candidate.column[row] = 1;
            candidate.row.jobs.push_back(records[row]->life.job);
            comebacks += records[row]->life.cameBack();
        }
        if (rows.size() < 3 || comebacks == 0)
            candidate.row.why = comebacks == 0 ? "none came back" : "too few to say";
        candidates.push_back(std::move(candidate));
    }
}

void addNumber(std::vector<Candidate>& candidates, const std::vector<const LifeRecord*>& records,
               const std::string& name, double (*valueOf)(const LifeRecord&)) {
    Candidate candidate;
    candidate.row.name = name;
    candidate.row.repairs = static_cast<int>(records.size());
    for (const LifeRecord* record : records) {
        candidate.column.push_back(valueOf(*record));
        candidate.row.jobs.push_back(record->life.job);
    }
    const auto [low, high] = std::minmax_element(candidate.column.begin(), candidate.column.end());
    if (candidate.column.empty() || *low == *high)
        return;
    candidates.push_back(std::move(candidate));
}

/// Every watch with enough repairs against what `othersOf` finds for it, nearest to its limit first.
template <class Key, class Others>
Result<std::vector<WatchedPart>> reviewWatches(const std::map<Key, Watch>& watches,
                                               std::span<const LifeRecord> lives, Others othersOf, Date today,
                                               int runs) {
    std::vector<WatchedPart> parts;
    for (const auto& [key, watch] : watches) {
        if (watch.records.size() < kFewestToWatch)
            continue;
        std::vector<const LifeRecord*> others = othersOf(key, watch);
        auto hazard = hazardOf(others);
        if (!hazard) { // nothing of its kind to go by: all repairs
            others.clear();
            for (const LifeRecord& record : lives)
                if (record.life.contributes)
                    others.push_back(&record);
            hazard = hazardOf(others);
        }
        if (!hazard)
            return fail(ErrorCode::NotEstimable, "fewer than five comebacks: nothing to expect from");
        auto part = watchOf(watch, *hazard, today, runs);
        if (!part)
            return failureOf(part);
        parts.push_back(std::move(*part));
    }
    const auto nearness = [](const WatchedPart& part) {
        return part.points.empty() || part.limit <= 0 ? 0 : part.points.back().value / part.limit;
    };
    std::stable_sort(parts.begin(), parts.end(),
                     [&](const WatchedPart& a, const WatchedPart& b) { return nearness(a) > nearness(b); });
    return parts;
}

std::string nameOf(const PartNumber& part) {
    return part.revisionLabel.empty() ? part.number : part.number + " " + part.revisionLabel;
}

} // namespace

Result<std::vector<WatchedPart>> reviewLots(std::span<const LifeRecord> lives, const Shelf& shelf, Date today,
                                            int runs) {
    std::map<std::pair<PartNumberId, std::string>, Watch> watches;
    std::map<Component, std::vector<const LifeRecord*>>
        ofKind; // a repair once for each kind of part that it fitted
    for (const LifeRecord& record : lives) {
        if (!record.life.contributes)
            continue;
        for (const PartNumberId id : record.parts) {
            const PartNumber* part = shelf.find(id);
            if (part == nullptr || !isWatched(part->component))
                continue;
            auto& kind = ofKind[part->component];
            if (kind.empty() || kind.back() != &record)
                kind.push_back(&record);
        }
        for (const FittedLot& lot : record.lots) {
            const PartNumber* part = shelf.find(lot.part);
            if (part == nullptr || !isWatched(part->component))
                continue;
            Watch& watch = watches[{lot.part, lot.lot}];
            watch.name = nameOf(*part) + ", lot " + lot.lot;
            watch.component = part->component;
            watch.records.push_back(&record);
        }
    }
    const auto othersOf = [&](const auto&, const Watch& watch) {
        std::vector<const LifeRecord*> own = watch.records;
        std::sort(own.begin(), own.end());
        std::vector<const LifeRecord*> others;
        for (const LifeRecord* record : ofKind[watch.component])
            if (!std::binary_search(own.begin(), own.end(), record))
                others.push_back(record);
        return others;
    };
    return reviewWatches(watches, lives, othersOf, today, runs);
}

Result<std::vector<WatchedPart>> reviewParts(std::span<const LifeRecord> lives, const Shelf& shelf,
                                             Date today, int runs) {
    std::map<PartNumberId, Watch> watches;
    for (const LifeRecord& record : lives) {
        if (!record.life.contributes)
            continue;
        for (const PartNumberId id : record.parts) {
            const PartNumber* part = shelf.find(id);
            if (part == nullptr || !isWatched(part->component))
                continue;
            Watch& watch = watches[id];
            watch.name = nameOf(*part);
            watch.component = part->component;
            watch.records.push_back(&record);
        }
    }
    const auto othersOf = [&](PartNumberId id, const Watch& watch) {
        std::vector<const LifeRecord*> others;
        for (const auto& [otherId, other] : watches)
            if (otherId != id && other.component == watch.component)
                others.insert(others.end(), other.records.begin(), other.records.end());
        return others;
    };
    return reviewWatches(watches, lives, othersOf, today, runs);
}

Result<FactorReview> reviewFactors(std::span<const LifeRecord> lives, const FacetNames& names,
                                   DistanceUnit unit) {
    std::vector<const LifeRecord*> records;
    std::vector<Life> own;
    FactorReview review;
    for (const LifeRecord& record : lives) {
        // Without a model year there is no row for it in the regression.
        if (!record.life.contributes || !record.life.path || !record.family || !record.modelYear)
            continue;
        records.push_back(&record);
        own.push_back(record.life);
        review.comebacks += record.life.cameBack();
    }
    review.lives = static_cast<double>(records.size());
    if (review.comebacks < kFewestForFactors)
        return fail(ErrorCode::NotEstimable, "fewer than ten comebacks: too few to tell factors apart");
    std::vector<Candidate> candidates;
    addKinds(candidates, records, names, "path");
    addKinds(candidates, records, names, "engine");
    addNumber(candidates, records, "five model years newer",
              [](const LifeRecord& record) { return (*record.modelYear - 2000) / 5.0; });
    if (unit == DistanceUnit::Miles)
        addNumber(candidates, records, "5,000 miles a year more", [](const LifeRecord& record) {
            return record.life.yearly.perYear.in(DistanceUnit::Miles) / 5'000;
        });
    else
        addNumber(candidates, records, "10,000 kilometres a year more", [](const LifeRecord& record) {
            return record.life.yearly.perYear.in(DistanceUnit::Kilometres) / 10'000;
        });
    const LifeColumns columns = toColumns(own, unit);
    CoxOptions options;
    options.clustered = true;
    while (true) {
        std::vector<std::size_t> used;
        FactorTable table;
        for (std::size_t k = 0; k < candidates.size(); ++k)
            if (candidates[k].row.why.empty()) {
                used.push_back(k);
                table.names.push_back(candidates[k].row.name);
            }
        if (used.empty())
            return fail(ErrorCode::NotEstimable, "no factor can be told apart from the others");
        for (const std::size_t row : columns.rows)
            for (const std::size_t k : used)
                table.values.push_back(candidates[k].column[row]);
        const auto fit = fitCox(columns.lives, table, options);
        if (!fit) {
            // The reason names the factor that cannot be told: without it the others can.
            auto named = used.end();
            for (auto k = used.begin(); k != used.end(); ++k) {
                const std::string& name = candidates[*k].row.name;
                // The longest name that fits: one may be the beginning of another.
                if (fit.error().detail.find(name) != std::string::npos &&
                    (named == used.end() || name.size() > candidates[*named].row.name.size()))
                    named = k;
            }
            if (fit.error().code != ErrorCode::NotEstimable || named == used.end())
                return failureOf(fit);
            candidates[*named].row.why = "cannot be told apart";
            continue;
        }
        for (std::size_t i = 0; i < used.size(); ++i) {
            FactorReview::Row& row = candidates[used[i]].row;
            row.ratio = fit->terms[i].hazardRatio;
            row.lower = fit->terms[i].lower;
            row.upper = fit->terms[i].upper;
        }
        if (!fit->proportionalHazards.empty())
            review.proportionalP = fit->proportionalHazards.back().p;
        break;
    }
    for (Candidate& candidate : candidates)
        review.rows.push_back(std::move(candidate.row));
    return review;
}

} // namespace milehold::core
