// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/quote_check.h"

#include "core/quote/path_evidence.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace milehold::core {

namespace {

constexpr double kEdges[] = {0, 0.5, 0.7, 0.8, 0.9, 1};

struct Told {
    double chance = 0;
    double lower = 0, upper = 0; ///< told with it, else the chance itself
    double horizon = 0;          ///< metres
    const Life* life = nullptr;
};

Result<QuoteBin> binOf(const std::vector<Told>& told, double from, double to, double level) {
    QuoteBin bin;
    bin.from = from;
    bin.to = to;
    Lives lives;
    bool isEntered = false;
    double toldLower = 0, toldUpper = 0;
    for (const Told& one : told) {
        const Life& life = *one.life;
        const Distance end = life.cameBack() && life.until ? *life.until : life.known;
        lives.miles.push_back(static_cast<double>(end.metres()) / one.horizon);
        lives.end.push_back(life.cameBack() ? kCameBack : kHolding);
        lives.entry.push_back(static_cast<double>(life.entry.metres()) / one.horizon);
        isEntered = isEntered || life.entry > Distance();
        bin.quoted += one.chance;
        toldLower += one.lower;
        toldUpper += one.upper;
        bin.comebacks += life.cameBack() && lives.miles.back() <= 1;
        bin.jobs.push_back(life.job);
    }
    if (!isEntered)
        lives.entry.clear();
    bin.quotes = static_cast<int>(told.size());
    const auto quotes = static_cast<double>(told.size());
    bin.quoted /= quotes;
    if (toldLower < toldUpper) {
        bin.toldLower = toldLower / quotes;
        bin.toldUpper = toldUpper / quotes;
    }
    const auto set = WatchedSet::of(countsOfAll(lives), level);
    if (!set)
        return failureOf(set);
    const QuotePoint at = set->pointAt(1);
    bin.watched = at.watched;
    if (set->lives() < kFewest || at.beyond)
        return bin;
    bin.lower = at.lower;
    bin.upper = at.upper;
    if (!at.few)
        bin.observed = at.chance ? at.chance : at.atLeast ? std::optional(1.0) : std::nullopt;
    return bin;
}

} // namespace

std::optional<bool> QuoteBin::held() const {
    if (!lower || !upper)
        return std::nullopt;
    if (isLimit)
        return quoted <= *upper;
    const double least = toldLower.value_or(quoted), most = toldUpper.value_or(quoted);
    if (!observed)
        return least <= *upper && *lower <= most;
    const double difference = *observed - quoted;
    return difference <= std::hypot(*observed - *lower, most - quoted) &&
           -difference <= std::hypot(*upper - *observed, quoted - least);
}

const LifeRecord* lifeOf(const GivenQuote& quote, std::span<const LifeRecord> lives) {
    const LifeRecord* first = nullptr;
    for (const LifeRecord& record : lives) {
        const Life& life = record.life;
        if (life.path != quote.path)
            continue;
        if (quote.job) {
            if (life.job == *quote.job)
                return &record;
            continue;
        }
        if (life.vehicle != quote.vehicle || life.repairedOn < quote.date ||
            life.repairedOn > addDays(quote.date, kQuoteWaitsDays))
            continue;
        if (first == nullptr || life.repairedOn < first->life.repairedOn)
            first = &record;
    }
    return first;
}

Result<QuoteCheck> checkQuotes(std::span<const GivenQuote> quotes, std::span<const LifeRecord> lives,
                               double level) {
    if (!(level > 0 && level < 1))
        return fail(ErrorCode::InvalidInput, "the level of the limits is not between 0 and 1");
    QuoteCheck check;
    // The lives of each vehicle, so that a quote looks at its own only.
    std::map<VehicleId, std::vector<LifeRecord>> ofVehicle;
    for (const LifeRecord& record : lives)
        ofVehicle[record.life.vehicle].push_back(record);
    std::map<JobId, std::pair<const GivenQuote*, const Life*>> lastTold;
    for (const GivenQuote& quote : quotes) {
        ++check.given;
        const auto own = ofVehicle.find(quote.vehicle);
        const LifeRecord* record = own == ofVehicle.end() ? nullptr : lifeOf(quote, own->second);
        if (record == nullptr || !record->life.contributes) {
            ++check.waiting;
            continue;
        }
        auto& last = lastTold[record->life.job];
        if (last.first != nullptr)
            ++check.repeated;
        if (last.first == nullptr || last.first->date <= quote.date)
            last = {&quote, &record->life};
    }
    constexpr std::size_t kBins = std::size(kEdges) - 1;
    std::vector<std::vector<Told>> told(kBins);
    std::vector<Told> all;
    std::vector<Told> limits; // no chance was told: the lower limit in its place
    for (const auto& [job, pair] : lastTold) {
        const auto& [quote, life] = pair;
        const auto horizon = static_cast<double>(quote->horizon.metres());
        if (!quote->chance) {
            ++check.noEstimate;
            if (const auto least = quote->lower ? quote->lower : quote->atLeast)
                limits.push_back({fromMillionths(*least), 0, 0, horizon, life});
            continue;
        }
        const double chance = fromMillionths(*quote->chance);
        const Told one{chance, quote->lower ? fromMillionths(*quote->lower) : chance,
                       quote->upper ? fromMillionths(*quote->upper) : chance, horizon, life};
        std::size_t bin = 0;
        while (bin + 1 < kBins && one.chance > kEdges[bin + 1])
            ++bin;
        told[bin].push_back(one);
        all.push_back(one);
    }
    for (std::size_t i = 0; i < kBins; ++i) {
        if (told[i].empty())
            continue;
        auto bin = binOf(told[i], kEdges[i], kEdges[i + 1], level);
        if (!bin)
            return failureOf(bin);
        check.bins.push_back(std::move(*bin));
    }
    if (!all.empty()) {
        auto whole = binOf(all, 0, 1, level);
        if (!whole)
            return failureOf(whole);
        check.all = std::move(*whole);
    }
    if (!limits.empty()) {
        auto least = binOf(limits, 0, 1, level);
        if (!least)
            return failureOf(least);
        check.limits = std::move(*least);
        check.limits->isLimit = true;
    }
    return check;
}

} // namespace milehold::core
