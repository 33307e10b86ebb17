// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/report/owner_review.h"

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

void addTo(CostRow& row, const Life& life, const std::vector<const Job*>& jobs) {
    ++row.comebacks;
    for (const Job* job : jobs)
        row.costs.add(*job);
    row.jobs.push_back(life.job);
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
        review.priced += std::any_of(jobsBack.begin(), jobsBack.end(), [](const Job* job) { return job->hasComebackCost(); });
        for (const Job* job : jobsBack)
            review.costs.add(*job);
        addTo(path, life, jobsBack);
        std::string reason = "known from a call";
        if (life.state == LifeState::NeverHeld)
            reason = "noisy at delivery";
        else if (!jobsBack.empty())
            reason = jobsBack.front()->comebackDecision == ComebackDecision::None
                         ? std::string("not decided yet")
                         : std::string(labelOf(jobsBack.front()->comebackDecision));
        addTo(byReason[reason], life, jobsBack);
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
    WarrantyReview review;
    std::vector<double> yearly;
    for (const LifeRecord& record : lives) {
        if (!record.life.contributes)
            continue;
        followed.push_back(record.life);
        ofPath[pathName(record, names)].push_back(&record.life);
        yearly.push_back(record.life.yearly.perYear.in(unit));
        if (record.life.cameBack())
            review.jobs.push_back(record.life.job);
    }
    if (static_cast<double>(review.jobs.size()) < kFewestComebacks)
        return fail(ErrorCode::NotEstimable,
                    "fewer than five comebacks: too few to say what a warranty costs");
    review.drivers = static_cast<double>(yearly.size());
    review.meanCost = costs.priced > 0 ? static_cast<double>(costs.cost().minor) / costs.priced : 0;
    WarrantyOptions options;
    options.costEach = review.meanCost;
    options.replicates = replicates;
    const auto costOf = [&](std::span<const Life> own, const WarrantyTerms& terms) {
        const LifeColumns columns = toColumns(own, unit, Reading::Known, Intervals::Keep);
        return warrantyCost(observationsByGroup(columns.lives).front(), yearly, terms, options);
    };
    review.rows = usualTerms(settings, unit);
    review.pathTerms = review.rows.back().own ? review.rows.back().terms : review.rows[1].terms;
    for (WarrantyRow& row : review.rows) {
        auto cost = costOf(followed, row.terms);
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
        } else if (auto cost = costOf(copies, review.pathTerms)) {
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
