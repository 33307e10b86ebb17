// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/report/owner_review.h"

#include "core/shop/comeback.h"
#include "core/shop/labels.h"

#include <algorithm>
#include <cstdio>
#include <map>
#include <unordered_map>

namespace milehold::core {

namespace {

constexpr double kFewestComebacks = 5;
constexpr int kMonths = 12;

std::string monthOf(Date date) {
    char text[16];
    std::snprintf(text, sizeof text, "%04d-%02u", static_cast<int>(date.year()),
                  static_cast<unsigned>(date.month()));
    return text;
}

/// What the jobs where it came back have cost; a job that is not decided to be its comeback costs it nothing.
CostSum costOf(const std::vector<const Job*>& jobs) {
    CostSum sum;
    for (const Job* job : jobs)
        if (countsAsComeback(job->comebackDecision))
            sum.add(*job);
    return sum;
}

bool isPriced(const std::vector<const Job*>& jobs) {
    return std::any_of(jobs.begin(), jobs.end(), [](const Job* job) {
        return countsAsComeback(job->comebackDecision) && job->hasComebackCost();
    });
}

void addTo(CostRow& row, const Life& life, const std::vector<const Job*>& jobs) {
    ++row.comebacks;
    row.priced += isPriced(jobs);
    row.costs.add(costOf(jobs));
    row.jobs.push_back(life.job);
}

std::string reasonOf(const Life& life, const std::vector<const Job*>& jobs) {
    if (life.entry > Distance())
        return "Another shop's repair";
    if (life.state == LifeState::NeverHeld)
        return "Noisy at delivery";
    if (jobs.empty())
        return "Known from a call";
    // The job that was decided to be its comeback speaks before one that is still looked at.
    const auto decided = std::find_if(jobs.begin(), jobs.end(),
                                      [](const Job* job) { return countsAsComeback(job->comebackDecision); });
    const Job* job = decided == jobs.end() ? jobs.front() : *decided;
    return job->comebackDecision == ComebackDecision::None ? std::string("Not decided yet")
                                                           : std::string(labelOf(job->comebackDecision));
}

std::vector<CostRow> mostFirst(std::map<std::string, CostRow> rows) {
    std::vector<CostRow> sorted;
    for (auto& [name, row] : rows) {
        row.name = name;
        sorted.push_back(std::move(row));
    }
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const CostRow& a, const CostRow& b) { return a.comebacks > b.comebacks; });
    return sorted;
}

std::string pathName(const LifeRecord& record, const FacetNames& names) {
    const RepairPath* path = record.life.path ? names.shelf.find(*record.life.path) : nullptr;
    return path == nullptr ? std::string("not recorded") : path->name;
}

/// Expected comebacks of each group from the hazard of its lives' own paths.
Result<FunnelReview> funnelBy(std::span<const LifeRecord> lives, const FacetNames& names,
                              std::string (*groupOf)(const LifeRecord&, const FacetNames&)) {
    std::map<std::string, std::vector<const LifeRecord*>> byPath;
    std::map<std::string, std::pair<FunnelEntry, std::vector<JobId>>> sums;
    for (const LifeRecord& record : lives) {
        if (!record.life.contributes)
            continue;
        const std::string group = groupOf(record, names);
        if (group.empty())
            continue;
        byPath[pathName(record, names)].push_back(&record);
        sums[group].first.name = group;
        sums[group].second.push_back(record.life.job);
    }
    double observed = 0;
    for (const auto& [path, records] : byPath) {
        std::vector<Life> own;
        for (const LifeRecord* record : records)
            own.push_back(record->life);
        LifeColumns columns = toColumns(own, DistanceUnit::Kilometres);
        columns.lives.groupNames.clear();
        std::map<std::string, std::uint32_t> places;
        for (const std::size_t row : columns.rows) {
            const std::string group = groupOf(*records[row], names);
            const auto [place, isNew] = places.emplace(group, static_cast<std::uint32_t>(places.size()));
            if (isNew)
                columns.lives.groupNames.push_back(group);
            columns.lives.group.push_back(place->second);
        }
        for (const FunnelEntry& entry : observedAndExpected(columns.lives)) {
            sums[entry.name].first.observed += entry.observed;
            sums[entry.name].first.expected += entry.expected;
            observed += entry.observed;
        }
    }
    if (observed <= 0)
        return fail(ErrorCode::NotEstimable, "nothing has come back yet");
    std::vector<FunnelEntry> entries;
    FunnelReview review;
    for (auto& [name, sum] : sums) {
        if (sum.first.expected <= 0)
            continue;
        entries.push_back(sum.first);
        review.jobs.push_back(std::move(sum.second));
    }
    review.funnel = funnel(entries);
    return review;
}

std::string technicianOf(const LifeRecord& record, const FacetNames& names) {
    return facetById("technician")->valueOf(record, names);
}

std::string supplierOf(const LifeRecord& record, const FacetNames& names) {
    // Phasers decide, then whatever else was fitted.
    std::string supplier;
    for (const PartNumberId id : record.parts) {
        const PartNumber* part = names.shelf.find(id);
        if (part == nullptr || part->supplier.empty())
            continue;
        if (part->component == Component::Phaser)
            return part->supplier;
        if (supplier.empty())
            supplier = part->supplier;
    }
    return supplier;
}

/// One to five years at what is driven in a year, and the shop's own terms last.
std::vector<WarrantyRow> usualTerms(const ShopSettings& settings, DistanceUnit unit) {
    std::vector<WarrantyRow> terms;
    for (const double months : {12.0, 24.0, 36.0, 60.0})
        terms.push_back({{months, months * (unit == DistanceUnit::Miles ? 1'000 : 1'500)}, false, {}});
    if (settings.warrantyMonths || settings.warrantyDistance) {
        // One limit alone: the other is as far as anybody drives in it.
        WarrantyTerms own;
        own.months = settings.warrantyMonths ? *settings.warrantyMonths : 1'200;
        own.miles = settings.warrantyDistance ? settings.warrantyDistance->in(unit) : 1e7;
        std::erase_if(terms, [&](const WarrantyRow& row) {
            return row.terms.months == own.months && row.terms.miles == own.miles;
        });
        terms.push_back({own, true, {}});
    }
    return terms;
}

} // namespace

ComebackReview reviewComebacks(std::span<const LifeRecord> lives, std::span<const Job> jobs,
                               const FacetNames& names, Date today) {
    std::unordered_map<JobId, std::vector<const Job*>> cameBackAt;
    for (const Job& job : jobs)
        if (job.comebackOf && !job.isVoid() && job.comebackDecision != ComebackDecision::Unrelated)
            cameBackAt[*job.comebackOf].push_back(&job);
    ComebackReview review;
    std::map<std::string, CostRow> byPath;
    std::map<std::string, CostRow> byReason;
    std::map<std::string, CostRow> byMonth;
    const auto last = std::chrono::year_month(today.year(), today.month());
    for (int back = kMonths - 1; back >= 0; --back) {
        const auto month = last - std::chrono::months(back);
        byMonth[monthOf(month / std::chrono::day(1))];
    }
    for (const LifeRecord& record : lives) {
        const Life& life = record.life;
        CostRow& path = byPath[pathName(record, names)];
        path.repairs += life.contributes;
        if (!life.cameBack())
            continue;
        const auto found = cameBackAt.find(life.job);
        const auto jobsBack = found == cameBackAt.end() ? std::vector<const Job*>() : found->second;
        ++review.comebacks;
        review.priced += isPriced(jobsBack);
        review.costs.add(costOf(jobsBack));
        addTo(path, life, jobsBack);
        addTo(byReason[reasonOf(life, jobsBack)], life, jobsBack);
        if (const auto month = byMonth.find(monthOf(life.lastKnownOn)); month != byMonth.end())
            addTo(month->second, life, jobsBack);
    }
    review.byPath = mostFirst(std::move(byPath));
    review.byReason = mostFirst(std::move(byReason));
    for (auto& [name, row] : byMonth) {
        row.name = name;
        review.byMonth.push_back(std::move(row));
    }
    return review;
}

Result<FunnelReview> reviewPeople(std::span<const LifeRecord> lives, const FacetNames& names) {
    return funnelBy(lives, names, technicianOf);
}

Result<FunnelReview> reviewSuppliers(std::span<const LifeRecord> lives, const FacetNames& names) {
    return funnelBy(lives, names, supplierOf);
}

Result<WarrantyReview> reviewWarranty(std::span<const LifeRecord> lives, const ComebackReview& costs,
                                      const ShopSettings& settings, const FacetNames& names,
                                      DistanceUnit unit, int replicates) {
    std::vector<Life> followed;
    std::map<std::string, std::vector<const Life*>> ofPath;
    std::map<VehicleId, double> drivers; // a vehicle with two repairs has one
    WarrantyReview review;
    for (const LifeRecord& record : lives) {
        drivers.insert_or_assign(record.life.vehicle, record.life.yearly.perYear.in(unit));
        if (!record.life.contributes)
            continue;
        followed.push_back(record.life);
        ofPath[pathName(record, names)].push_back(&record.life);
        if (record.life.cameBack())
            review.jobs.push_back(record.life.job);
    }
    if (static_cast<double>(review.jobs.size()) < kFewestComebacks)
        return fail(ErrorCode::NotEstimable,
                    "fewer than five comebacks: too few to say what a warranty costs");
    std::vector<double> yearly;
    for (const auto& [vehicle, perYear] : drivers)
        yearly.push_back(perYear);
    review.drivers = static_cast<double>(yearly.size());
    review.meanCost = meanComebackCost(costs.cost(), costs.priced, 0);
    WarrantyOptions options;
    options.replicates = replicates;
    const auto priceOf = [&](std::span<const Life> own, const WarrantyTerms& terms, double costEach) {
        options.costEach = costEach;
        const LifeColumns columns = toColumns(own, unit, Reading::Known, Intervals::Keep);
        return warrantyCost(observationsByGroup(columns.lives).front(), yearly, terms, options);
    };
    const auto meanOf = [&](const std::string& path) {
        const auto row = std::ranges::find(costs.byPath, path, &CostRow::name);
        return row == costs.byPath.end() ? review.meanCost
                                         : meanComebackCost(row->cost(), row->priced, review.meanCost);
    };
    review.rows = usualTerms(settings, unit);
    review.pathTerms = review.rows.back().own ? review.rows.back().terms : review.rows[1].terms;
    for (WarrantyRow& row : review.rows) {
        auto cost = priceOf(followed, row.terms, review.meanCost);
        if (!cost)
            return failureOf(cost);
        row.cost = *cost;
    }
    for (const auto& [name, own] : ofPath) {
        WarrantyPath row;
        row.name = name;
        row.repairs = static_cast<int>(own.size());
        std::vector<Life> copies;
        for (const Life* life : own) {
            copies.push_back(*life);
            if (life->cameBack())
                row.jobs.push_back(life->job);
        }
        row.comebacks = static_cast<int>(row.jobs.size());
        if (row.comebacks < kFewestComebacks) {
            row.why = "too few to say";
        } else if (auto cost = priceOf(copies, review.pathTerms, meanOf(name))) {
            row.cost = *cost;
            const RepairPath* path = own.front()->path ? names.shelf.find(*own.front()->path) : nullptr;
            if (path != nullptr && path->price.minor > 0 && review.meanCost > 0)
                row.ofPrice = cost->money.value / options.jobs / static_cast<double>(path->price.minor);
        } else {
            row.why = cost.error().detail;
        }
        review.byPath.push_back(std::move(row));
    }
    std::stable_sort(review.byPath.begin(), review.byPath.end(),
                     [](const WarrantyPath& a, const WarrantyPath& b) { return a.repairs > b.repairs; });
    return review;
}

} // namespace milehold::core
