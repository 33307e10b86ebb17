// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/quote.h"

#include "core/life/readings.h"
#include "core/quote/path_evidence.h"
#include "core/quote/sentence.h"
#include "core/quote/stale.h"
#include "core/quote/words.h"
#include "core/shop/applies.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace milehold::core {

namespace {

constexpr int kYearsOfHorizon = 2;
constexpr double kShortestRow = 1000;
constexpr double kProjectedAtMost = 2; // times as far as any was watched

double inUnit(std::int64_t count, DistanceUnit unit) {
    return Distance::from(count, unit).in(unit);
}

Result<void> check(const QuoteOptions& options) {
    if (!(options.level > 0 && options.level < 1))
        return fail(ErrorCode::InvalidInput, "the level of the limits is not between 0 and 1");
    if (!options.dataDate.ok())
        return fail(ErrorCode::InvalidInput, "the date of the records is not a date");
    if (options.horizon < 0 || options.horizon > Distance::kMost)
        return fail(ErrorCode::InvalidInput, "the horizon is not positive");
    for (const auto mark : options.marks)
        if (mark <= 0 || mark > Distance::kMost)
            return fail(ErrorCode::InvalidInput, "a mark is not positive");
    for (const int years : options.years)
        if (years <= 0 || years > 100)
            return fail(ErrorCode::InvalidInput, "a number of years is not between 1 and 100");
    return {};
}

/// What a driver runs in so many years, to the thousand, and a thousand at least.
std::int64_t runIn(double years, const YearlyDistance& yearly, DistanceUnit unit) {
    return toThousand(std::max(yearly.perYear.in(unit)*years, kShortestRow));
}

std::int64_t horizonOf(const QuoteOptions& options, const YearlyDistance& yearly) {
    if (options.horizon > 0)
        return toThousand(static_cast<double>(options.horizon));
    return runIn(kYearsOfHorizon, yearly, options.unit);
}

/// Works one path out.
class PathQuoter {
public:
    PathQuoter(const RepairPath& path, std::vector<const LifeRecord*> records, const QuoteSubject& subject,
               const Shelf& shelf, const QuoteOptions& options, std::span<const LifeRecord> all)
        : path_(path), records_(std::move(records)), subject_(subject), options_(options), shelf_(shelf),
          all_(all) {
        quote_.path = path.id;
        quote_.name = path.name;
        quote_.price = path.price;
        quote_.hours = path.hours;
        quote_.cautions = path.cautions;
        quote_.stale = staleFacts(path, shelf, options.dataDate);
        quote_.horizon.at = horizonOf(options, subject.yearly);
    }

    Result<PathQuote> quote() {
        addSums();
        addRows();
        if (records_.empty()) {
            quote_.strength = QuoteStrength::NoJobs;
        } else if (quote_.lives == 0) {
            quote_.strength = QuoteStrength::TooFew;
        } else if (auto watched = watch(); !watched) {
            return failureOf(watched);
        }
        if (auto added = addPooled(); !added)
            return failureOf(added);
        facts_.yearly = subject_.yearly;
        facts_.options = options_;
        QuoteSentence said = quoteSentence(quote_, facts_);
        quote_.sentence = std::move(said.whole);
        quote_.spoken = std::move(said.spoken);
        quote_.details = std::move(said.rest);
        return std::move(quote_);
    }

private:
    void addSums() {
        for (const LifeRecord* record : records_) {
            const Life& life = record->life;
            quote_.jobs.push_back(life.job);
            quote_.unseen += life.unchecked().in(options_.unit);
            lives_.push_back(life);
            if (!life.isFollowed()) {
                ++quote_.notFollowed;
                continue;
            }
            ++quote_.lives;
            quote_.elsewhere += life.entry > Distance();
            quote_.known += std::max(life.known - life.entry, Distance()).in(options_.unit);
            if (life.cameBack())
                ++quote_.comebacks;
            if (life.until)
                ++quote_.datedBySight;
        }
        if (quote_.known + quote_.unseen > 0)
            quote_.evidence = quote_.known / (quote_.known + quote_.unseen);
    }

    /// The rows that are asked for; without a life nothing can be said in them.
    void addRows() {
        QuotePoint row;
        row.few = row.beyond = true;
        for (const int years : options_.years) {
            row.at = runIn(years, subject_.yearly, options_.unit);
            row.years = years;
            quote_.byYear.push_back(row);
        }
        row.years = 0;
        for (const auto mark : options_.marks) {
            row.at = mark;
            quote_.byMark.push_back(row);
        }
        row.at = quote_.horizon.at;
        quote_.horizon = row;
    }

    Result<void> watch() {
        const LifeColumns known = toColumns(lives_, options_.unit, Reading::Known);
        auto watched = WatchedSet::of(countsOfAll(known.lives), options_.level);
        if (!watched)
            return failureOf(watched);
        auto worst = worstCurves(lives_, options_.unit, options_.level);
        if (!worst)
            return failureOf(worst);
        worst_ = std::move(*worst);
        quote_.longestWatched = watched->curve().longestWatched;
        for (auto* rows : {&quote_.byYear, &quote_.byMark})
            for (auto& row : *rows)
                fill(row, *watched, true);
        fill(quote_.horizon, *watched, true);
        const double horizon = inUnit(quote_.horizon.at, options_.unit);
        quote_.pastHorizon =
            static_cast<int>(std::count_if(known.lives.miles.begin(), known.lives.miles.end(),
                                           [&](double miles) { return miles > horizon; }));
        addMedian(*watched);
        addStraddling(Distance::from(quote_.horizon.at, options_.unit));
        quote_.strength = strength();
        addWords(*watched);
        const auto facts = evidenceFacts(lives_, options_.unit, horizon, quote_.horizon);
        if (!facts)
            return failureOf(facts);
        quote_.evidenceFacts = *facts;
        auto cost = quietCost(*watched, horizon, quote_.price);
        if (cost)
            quote_.cost = *cost;
        else
            quote_.noCost = cost.error().detail;
        if (options_.project)
            addProjection(*watched);
        if (auto added = addConditional(*watched); !added)
            return added;
        quote_.curve = watched->curve();
        return {};
    }

    void fill(QuotePoint& row, const WatchedSet& watched, bool withWorst) const {
        const double miles = inUnit(row.at, options_.unit);
        const auto at = row.at;
        const int years = row.years;
        row = watched.pointAt(miles);
        row.at = at;
        row.years = years;
        if (withWorst && !row.beyond && quote_.lives >= kFewest)
            row.worst = worst_.at(miles);
    }

    void addMedian(const WatchedSet& watched) {
        const auto half = core::quantile(watched.curve(), 0.5).miles;
        if (half && watched.pointAt(*half).chance)
            quote_.median = half;
    }

    void addStraddling(Distance horizon) {
        Straddling& some = facts_.straddling;
        for (const Life& life : lives_) {
            if (!life.contributes || !life.cameBack() || !life.until || life.known >= horizon ||
                *life.until <= horizon)
                continue;
            const double from = life.known.in(options_.unit);
            some.from = some.count == 0 ? from : std::min(some.from, from);
            some.to = std::max(some.to, life.until->in(options_.unit));
            ++some.count;
        }
    }

    QuoteStrength strength() const {
        if (quote_.lives < kFewest)
            return QuoteStrength::TooFew;
        return quote_.horizon.chance ? QuoteStrength::Full : QuoteStrength::LimitsOnly;
    }

    void addWords(const WatchedSet& watched) {
        if (!quote_.horizon.beyond)
            return;
        // The furthest thousand at which the watched set still makes five.
        for (auto at = toThousand(std::floor(quote_.longestWatched / kShortestRow) * kShortestRow);
             at >= static_cast<std::int64_t>(kShortestRow); at -= static_cast<std::int64_t>(kShortestRow)) {
            QuotePoint point;
            point.at = at;
            fill(point, watched, false);
            if (point.beyond || point.few)
                continue;
            facts_.stillWatched = point;
            break;
        }
    }

    /// Where the path's own comebacks are few, what like paths add.
    Result<void> addPooled() {
        if (quote_.comebacks >= kFewest)
            return {};
        auto pooled = pooledWithLikePaths(all_, path_, *subject_.family, shelf_, options_.unit,
                                          inUnit(quote_.horizon.at, options_.unit), options_.level);
        if (pooled)
            quote_.pooled = std::move(*pooled);
        else if (pooled.error().code == ErrorCode::NotEstimable ||
                 pooled.error().code == ErrorCode::NoConvergence)
            quote_.notPooled = pooled.error().detail;
        else
            return failureOf(pooled);
        return {};
    }

    /// From where fewer than five are watched to the furthest row that is asked for, at most twice as far as
    /// any was watched.
    void addProjection(const WatchedSet& watched) {
        double to = inUnit(quote_.horizon.at, options_.unit);
        for (const auto* rows : {&quote_.byYear, &quote_.byMark})
            for (const auto& row : *rows)
                to = std::max(to, inUnit(row.at, options_.unit));
        to = std::min(to, kProjectedAtMost * quote_.longestWatched);
        auto made = projectOn(watched.counts(), watched.fewFrom(), to, options_.level);
        if (!made) {
            quote_.notProjected = made.error().code == ErrorCode::InvalidInput
                                      ? "everything that is asked for was watched"
                                      : made.error().detail;
            return;
        }
        quote_.projection = std::move(*made);
        const auto project = [&](QuotePoint& row) {
            if (!row.few && !row.beyond)
                return;
            if (const auto at = quote_.projection->at(inUnit(row.at, options_.unit)))
                row.projected = ProjectedChance{at->survival, at->lower, at->upper};
        };
        for (auto* rows : {&quote_.byYear, &quote_.byMark})
            for (auto& row : *rows)
                project(row);
        project(quote_.horizon);
    }

    Result<void> addConditional(const WatchedSet& watched) {
        if (!subject_.running || subject_.running->life.path != path_.id)
            return {};
        const Life& life = subject_.running->life;
        const bool holds = life.state == LifeState::Holding || life.state == LifeState::LostSight;
        if (!holds || life.known <= Distance())
            return {};
        const double run = life.known.in(options_.unit);
        quote_.alreadyRun = run;
        QuotePoint ahead;
        ahead.at = toThousand(run + static_cast<double>(quote_.horizon.at));
        ahead.few = ahead.beyond = true;
        std::vector<QuotePoint> marks;
        for (const auto mark : options_.marks) {
            QuotePoint row = ahead;
            row.at = mark;
            if (inUnit(mark, options_.unit) > run)
                marks.push_back(row);
        }
        const Counts later = restartedAt(watched.counts(), run);
        if (later.size() > 0 && later.lives() > 0) {
            auto restarted = WatchedSet::of(later, options_.level);
            if (!restarted)
                return failureOf(restarted);
            for (auto& row : marks)
                fill(row, *restarted, false);
            fill(ahead, *restarted, false);
        }
        quote_.conditional = std::move(marks);
        quote_.conditionalHorizon = ahead;
        return {};
    }

    const RepairPath& path_;
    std::vector<const LifeRecord*> records_;
    const QuoteSubject& subject_;
    const QuoteOptions& options_;
    const Shelf& shelf_;
    std::span<const LifeRecord> all_;
    std::vector<Life> lives_;
    WorstCurves worst_;
    SentenceFacts facts_;
    PathQuote quote_;
};

std::vector<const RepairPath*> pathsFor(const QuoteSubject& subject, const Shelf& shelf) {
    std::vector<const RepairPath*> paths;
    for (const auto& path : shelf.paths)
        if (path.active && applies(path, subject, shelf))
            paths.push_back(&path);
    std::sort(paths.begin(), paths.end(), [](const RepairPath* a, const RepairPath* b) {
        return std::tie(a->price, a->name, a->id) < std::tie(b->price, b->name, b->id);
    });
    return paths;
}

} // namespace

bool applies(const RepairPath& path, const QuoteSubject& subject, const Shelf& shelf) {
    return appliesTo(path, subject.family, subject.modelYear, subject.calibration, shelf);
}

Result<Quote> makeQuote(std::span<const LifeRecord> lives, const QuoteSubject& subject, const Shelf& shelf,
                        const ShopSettings&, const QuoteOptions& options) {
    if (auto valid = check(options); !valid)
        return failureOf(valid);
    Quote quote;
    quote.subject = subject;
    quote.options = options;
    if (!subject.family) {
        quote.note =
            "The engine family of this vehicle is not known, so no repair path can be matched to it.";
        return quote;
    }
    for (const RepairPath* path : pathsFor(subject, shelf)) {
        std::vector<const LifeRecord*> records;
        for (const auto& record : lives)
            if (record.life.path == path->id && record.family == subject.family)
                records.push_back(&record);
        auto made = PathQuoter(*path, std::move(records), subject, shelf, options, lives).quote();
        if (!made)
            return failureOf(made);
        quote.paths.push_back(std::move(*made));
    }
    if (quote.paths.empty()) {
        const bool ofFamily = std::ranges::any_of(shelf.paths, [&](const RepairPath& path) {
            return path.active && std::ranges::any_of(path.applies, [&](const auto& one) {
                       return one.family == *subject.family;
                   });
        });
        quote.note =
            !subject.modelYear && ofFamily
                ? "Which repair paths apply to this engine family depends on the model year, which is not "
                  "known yet."
                : "No repair path on the shelf is listed for this engine family, model year and "
                  "calibration.";
    }
    return quote;
}

} // namespace milehold::core
