// SPDX-License-Identifier: GPL-3.0-or-later
// Early warning and factors of the owner's review.
#include "core/report/owner_review.h"

#include <algorithm>
#include <map>

namespace milehold::core {

namespace {

constexpr double kFewestForFactors = 10;

double dayNumber(Date date) {
    return static_cast<double>(std::chrono::sys_days(date).time_since_epoch().count());
}

struct Watch {
    std::string name;
    std::vector<const LifeRecord*> records;
};

bool isWatched(const PartNumber* part) {
    return part != nullptr &&
           (part->component == Component::Phaser || part->component == Component::OilControlValve ||
            part->component == Component::ChainSet || part->component == Component::Tensioner);
}

Result<WatchedPart> watchOf(const Watch& watch, const UsualHazard& usual, Date today,
                            const EarlyWarningOptions& options) {
    std::vector<WatchedJob> jobs;
    WatchedPart part;
    part.name = watch.name;
    for (const LifeRecord* record : watch.records) {
        jobs.push_back(watchedJob(record->life));
        part.jobs.push_back(record->life.job);
    }
    auto warning = earlyWarning(jobs, usual, dayNumber(today), options);
    if (!warning)
        return failureOf(warning);
    part.repairs = warning->repairs;
    part.comebacks = warning->comebacks;
    part.expected = warning->expected;
    part.since = Date(std::chrono::sys_days(std::chrono::days(static_cast<int>(warning->first))));
    part.points = std::move(warning->points);
    part.limit = warning->limit;
    part.alarmOn = warning->alarm;
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

/// Every watch with enough repairs against the repairs that fitted the same kind of part and are not its own,
/// nearest to its limit first. `kindOf`: what those are.
template <class Key, class KindOf>
Result<std::vector<WatchedPart>> reviewWatches(const std::map<Key, Watch>& watches,
                                               std::span<const LifeRecord> lives, KindOf kindOf, Date today,
                                               const EarlyWarningOptions& options) {
    std::vector<WatchedPart> parts;
    for (const auto& [key, watch] : watches) {
        if (watch.records.size() < kFewestToWatch)
            continue;
        std::vector<WatchedJob> others;
        auto own = watch.records.begin(); // both lists are in the order of the lives
        for (const LifeRecord* record : kindOf(key)) {
            if (own != watch.records.end() && *own == record)
                ++own;
            else
                others.push_back(watchedJob(record->life));
        }
        auto usual = usualHazard(others);
        if (!usual) { // nothing of its kind to go by: all repairs
            others.clear();
            for (const LifeRecord& record : lives)
                if (isWatchedFromDelivery(record.life))
                    others.push_back(watchedJob(record.life));
            usual = usualHazard(others);
        }
        if (!usual)
            return failureOf(usual);
        auto part = watchOf(watch, *usual, today, options);
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

using Kinds = std::map<Component, std::vector<const LifeRecord*>>;

/// The repairs that fitted each kind of part, each once, in the order of the lives.
Kinds kindsOf(std::span<const LifeRecord> lives, const Shelf& shelf) {
    Kinds kinds;
    for (const LifeRecord& record : lives) {
        if (!isWatchedFromDelivery(record.life))
            continue;
        for (const PartNumberId id : record.parts) {
            const PartNumber* part = shelf.find(id);
            if (!isWatched(part))
                continue;
            auto& kind = kinds[part->component];
            if (kind.empty() || kind.back() != &record)
                kind.push_back(&record);
        }
    }
    return kinds;
}

} // namespace

bool isWatchedFromDelivery(const Life& life) {
    return life.contributes && life.entry == Distance();
}

WatchedJob watchedJob(const Life& life) {
    const double from = dayNumber(life.repairedOn);
    return {from, std::max(from, dayNumber(life.lastKnownOn)), life.cameBack()};
}

Result<std::vector<WatchedPart>> reviewLots(std::span<const LifeRecord> lives, const Shelf& shelf, Date today,
                                            const EarlyWarningOptions& options) {
    std::map<std::pair<PartNumberId, std::string>, Watch> watches;
    for (const LifeRecord& record : lives) {
        if (!isWatchedFromDelivery(record.life))
            continue;
        for (const FittedLot& lot : record.lots) {
            const PartNumber* part = shelf.find(lot.part);
            if (!isWatched(part))
                continue;
            Watch& watch = watches[{lot.part, lot.lot}];
            watch.name = nameOf(*part) + ", lot " + lot.lot;
            watch.records.push_back(&record);
        }
    }
    Kinds kinds = kindsOf(lives, shelf);
    const auto kindOf = [&](const auto& key) -> const std::vector<const LifeRecord*>& {
        return kinds[shelf.find(key.first)->component];
    };
    return reviewWatches(watches, lives, kindOf, today, options);
}

Result<std::vector<WatchedPart>> reviewParts(std::span<const LifeRecord> lives, const Shelf& shelf,
                                             Date today, const EarlyWarningOptions& options) {
    std::map<PartNumberId, Watch> watches;
    for (const LifeRecord& record : lives) {
        if (!isWatchedFromDelivery(record.life))
            continue;
        for (const PartNumberId id : record.parts) {
            const PartNumber* part = shelf.find(id);
            if (!isWatched(part))
                continue;
            Watch& watch = watches[id];
            watch.name = nameOf(*part);
            watch.records.push_back(&record);
        }
    }
    Kinds kinds = kindsOf(lives, shelf);
    const auto kindOf = [&](PartNumberId id) -> const std::vector<const LifeRecord*>& {
        return kinds[shelf.find(id)->component];
    };
    return reviewWatches(watches, lives, kindOf, today, options);
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
