// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/report/owners_report.h"

#include "core/life/readings.h"
#include "core/quote/path_evidence.h"
#include "core/shop/stale_facts.h"

#include <algorithm>
#include <map>

namespace milehold::core {

namespace {

constexpr double kFew = 5;

bool inMonth(Date date, std::chrono::year_month month) {
    return date.ok() && date.year() == month.year() && date.month() == month.month();
}

Result<void> check(const ReportOptions& options) {
    if (!options.month.ok())
        return fail(ErrorCode::InvalidInput, "the report's month is not a month");
    if (!options.dataDate.ok())
        return fail(ErrorCode::InvalidInput, "the report's data date is not a date");
    if (options.mark <= 0)
        return fail(ErrorCode::InvalidInput, "the report's mark must be above 0");
    if (!(options.level > 0 && options.level < 1))
        return fail(ErrorCode::InvalidInput, "the level of limits must lie between 0 and 1");
    return {};
}

std::optional<double> share(double known, double unseen) {
    if (known + unseen <= 0)
        return std::nullopt;
    return known / (known + unseen);
}

Result<ReportPath> pathLine(std::string name, const std::vector<const LifeRecord*>& records,
                            const ReportOptions& options) {
    ReportPath line;
    line.name = std::move(name);
    std::vector<Life> lives;
    for (const auto* record : records) {
        const Life& life = record->life;
        lives.push_back(life);
        line.jobs.push_back(life.job);
        line.unseen += life.unchecked().in(options.unit);
        if (!life.isFollowed()) {
            ++line.notFollowed; // its unseen distance counts all the same
            continue;
        }
        ++line.lives;
        line.known += (life.known - life.entry).in(options.unit);
        if (life.cameBack()) {
            ++line.comebacks;
            if (inMonth(life.lastKnownOn, options.month))
                ++line.comebacksThisMonth;
        }
    }
    line.evidence = share(line.known, line.unseen);
    line.atMark.at = options.mark;
    line.atMark.few = line.atMark.beyond = line.tooFew = true;
    if (line.lives == 0)
        return line;

    const auto watched = WatchedSet::of(countsOfAll(toColumns(lives, options.unit).lives), options.level);
    if (!watched)
        return failureOf(watched);
    const auto mark = static_cast<double>(options.mark);
    line.atMark = watched->pointAt(mark);
    line.atMark.at = options.mark;
    line.median = quantile(watched->curve(), 0.5).miles;
    line.tooFew = line.lives < kFew || line.atMark.few;
    line.curve = watched->curve();
    auto facts = evidenceFacts(lives, options.unit, mark, line.atMark);
    if (!facts)
        return failureOf(facts);
    line.facts = std::move(*facts);
    line.worstAtMark = line.facts.readings.worst;
    return line;
}

ReportComeback comebackOf(const LifeRecord& record, std::span<const Job> jobs, const FacetNames& names,
                          DistanceUnit unit, CostSum& costs) {
    ReportComeback row;
    row.jobNumber = record.jobNumber;
    row.vehicleLabel = record.vehicleLabel;
    if (record.life.path)
        if (const auto* path = names.shelf.find(*record.life.path))
            row.pathName = path->name;
    row.distance = record.life.known.in(unit);
    if (record.life.until)
        row.until = record.life.until->in(unit);
    for (const auto& job : jobs) {
        if (job.isVoid() || job.comebackOf != record.life.job)
            continue;
        row.cause = job.comebackCause;
        row.cost = row.cost + job.comebackTotal();
        costs.add(job);
    }
    return row;
}

void countStates(OwnersReport& report, const Life& life) {
    switch (life.state) {
    case LifeState::Holding:
        ++report.holding;
        break;
    case LifeState::CameBack:
    case LifeState::NeverHeld:
        ++report.cameBack;
        break;
    case LifeState::LostSight:
        ++report.lostSight;
        break;
    case LifeState::EndedOtherwise:
        ++report.endedOtherwise;
        break;
    }
}

} // namespace

Result<OwnersReport> makeOwnersReport(std::span<const LifeRecord> lives, std::span<const Job> jobs,
                                      const Shelf& shelf, const ShopSettings& settings,
                                      const ReportOptions& options) {
    if (const auto valid = check(options); !valid)
        return failureOf(valid);
    OwnersReport report;
    report.options = options;
    report.shopName = settings.name;
    for (StaleFact& fact : wantsChecking(shelf, options.dataDate))
        report.stale.push_back(std::move(fact.name));

    for (const auto& job : jobs) {
        if (job.isVoid() || job.kind != JobKind::Repair || !job.delivered)
            continue;
        if (!inMonth(*job.delivered, options.month))
            continue;
        ++report.delivered;
        report.revenue = report.revenue + job.total();
    }

    const FacetNames names{shelf, {}};
    std::map<std::string, std::vector<const LifeRecord*>> byPath;
    for (const auto& record : lives) {
        const RepairPath* path = record.life.path ? shelf.find(*record.life.path) : nullptr;
        byPath[path != nullptr ? path->name : std::string("no path recorded")].push_back(&record);
        countStates(report, record.life);
        if (record.life.cameBack() && inMonth(record.life.lastKnownOn, options.month)) {
            report.comebacks.push_back(comebackOf(record, jobs, names, options.unit, report.costs));
            report.comebackCost = report.comebackCost + report.comebacks.back().cost;
        }
    }
    for (auto& [name, records] : byPath) {
        auto line = pathLine(name, records, options);
        if (!line)
            return failureOf(line);
        report.known += line->known;
        report.unseen += line->unseen;
        report.paths.push_back(std::move(*line));
    }
    std::stable_sort(report.paths.begin(), report.paths.end(),
                     [](const ReportPath& a, const ReportPath& b) { return a.lives > b.lives; });
    report.evidence = share(report.known, report.unseen);
    std::vector<const LifeRecord*> all;
    for (const auto& record : lives)
        all.push_back(&record);
    auto together = pathLine({}, all, options);
    if (!together)
        return failureOf(together);
    report.facts = std::move(together->facts);
    return report;
}

} // namespace milehold::core
