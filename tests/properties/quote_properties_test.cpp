// SPDX-License-Identifier: GPL-3.0-or-later
// What holds for every quote, whatever the lives behind it.
#include "core/quote/path_evidence.h"
#include "core/quote/quote.h"
#include "tests/properties/random_records.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <string>

namespace milehold::core {
namespace {

using namespace testing_support;

/// A quote of one path, from any lives, with a row at every tenth kilometre or so.
struct Case {
    SmallShelf s;
    std::vector<LifeRecord> lives;
    QuoteSubject subject;
    QuoteOptions options;

    Case() {
        s.shelf.paths.resize(1);
        for (const auto& life : anyLives()) {
            LifeRecord record;
            record.life = life;
            record.life.path = s.phasers;
            record.family = s.family;
            lives.push_back(record);
        }
        subject.family = s.family;
        subject.modelYear = 2022;
        subject.yearly = {km(*rc::gen::inRange(0, 30)),
                          flip() ? YearlySource::Readings : YearlySource::ShopDefault, 3};
        if (flip()) {
            subject.running = lives[*rc::gen::inRange<std::size_t>(0, lives.size())];
            subject.running->life.state = LifeState::Holding;
        }
        options.unit = DistanceUnit::Kilometres;
        options.horizon = *rc::gen::inRange(1, 70);
        options.level = oneOf({0.5, 0.9, 0.95, 0.99});
        options.marks.clear();
        for (int km = 1; km < 100; km += 3)
            options.marks.push_back(km);
        options.dataDate = day("2031-04-09");
    }
    PathQuote make() const {
        const auto quote = makeQuote(lives, subject, s.shelf, ShopSettings{}, options);
        RC_ASSERT(quote.has_value() && quote->paths.size() == 1);
        return quote->paths[0];
    }
};

std::vector<QuotePoint> allPoints(const PathQuote& quote) {
    std::vector<QuotePoint> points = quote.byYear;
    points.insert(points.end(), quote.byMark.begin(), quote.byMark.end());
    points.push_back(quote.horizon);
    points.insert(points.end(), quote.conditional.begin(), quote.conditional.end());
    if (quote.conditionalHorizon)
        points.push_back(*quote.conditionalHorizon);
    return points;
}

RC_GTEST_PROP(QuoteProperties, NothingIsSaidPastTheLastWatchedDistance, ()) {
    const PathQuote quote = Case().make();
    for (const auto& point : allPoints(quote)) {
        const bool past = static_cast<double>(point.at) > quote.longestWatched;
        RC_ASSERT(!past || (point.beyond && !point.chance && !point.lower && !point.upper && !point.worst));
    }
}

RC_GTEST_PROP(QuoteProperties, AnEstimateRestsOnFiveAtLeastAndOneComeback, ()) {
    const PathQuote quote = Case().make();
    for (const auto& point : allPoints(quote))
        RC_ASSERT(!point.chance || *point.chance < 1);
    for (const auto& point : allPoints(quote))
        RC_ASSERT(!point.chance ||
                  (quote.lives >= 5 && quote.comebacks > 0 && point.watched >= 5 && !point.few));
    RC_ASSERT(quote.comebacks > 0 || quote.strength != QuoteStrength::Full);
    RC_ASSERT((quote.strength == QuoteStrength::Full) == quote.horizon.chance.has_value());
    RC_ASSERT(quote.sentence.find("never ") == std::string::npos);
}

RC_GTEST_PROP(QuoteProperties, LimitsHoldTheEstimateAndTheWorstIsNoBetter, ()) {
    const PathQuote quote = Case().make();
    for (const auto& point : allPoints(quote)) {
        RC_ASSERT(point.lower.has_value() == point.upper.has_value());
        if (point.lower)
            RC_ASSERT(0 <= *point.lower && *point.lower <= *point.upper && *point.upper <= 1);
        if (point.chance)
            RC_ASSERT(*point.lower <= *point.chance && *point.chance <= *point.upper);
        if (point.chance && point.worst)
            RC_ASSERT(*point.worst <= *point.chance + 1e-12);
    }
    for (std::size_t i = 1; i < quote.byMark.size(); ++i)
        if (quote.byMark[i - 1].chance && quote.byMark[i].chance)
            RC_ASSERT(*quote.byMark[i].chance <= *quote.byMark[i - 1].chance);
}

RC_GTEST_PROP(QuoteProperties, TheOrderOfLivesDoesNotMatter, ()) {
    Case one;
    const PathQuote quote = one.make();
    shuffle(one.lives);
    const PathQuote again = one.make();
    RC_ASSERT(quote.sentence == again.sentence);
    RC_ASSERT(quote.horizon.chance == again.horizon.chance && quote.horizon.lower == again.horizon.lower);
    RC_ASSERT(quote.curve.survival == again.curve.survival);
}

RC_GTEST_PROP(QuoteProperties, TheSentenceSaysWhatItRestsOn, ()) {
    const PathQuote quote = Case().make();
    const std::string& text = quote.sentence;
    RC_LOG() << text << "\n"; // shown when it fails
    const auto says = [&](const std::string& part) { return text.find(part) != std::string::npos; };
    RC_ASSERT(says("Records up to 2031-04-09."));
    RC_ASSERT(!says("nan") && !says("inf") && !says("-1") && !says("  "));
    if (quote.lives > 0) {
        RC_ASSERT(says(std::to_string(quote.lives) + (quote.lives == 1 ? " repair" : " repairs")));
        RC_ASSERT(says("The longest watched has run "));
        RC_ASSERT(quote.lives >= 5 || says("Too few to say"));
    }
    // "At least" is one-sided and says so; it is said only where nothing came back by then: at the distance
    // asked for, at the nearer one that is spoken of where too few are watched, or of those that ran as far
    // as this vehicle.
    RC_ASSERT(says("at least") == says("one-sided"));
    const bool nearer = quote.horizon.beyond || quote.horizon.few;
    const bool ahead =
        quote.conditionalHorizon &&
        (quote.conditionalHorizon->upper == 1.0 ||
         (quote.conditionalHorizon->beyond &&
          std::any_of(quote.conditional.begin(), quote.conditional.end(),
                      [](const QuotePoint& point) { return !point.beyond && point.upper == 1.0; })));
    RC_ASSERT(!says("at least") || quote.horizon.upper == 1.0 || nearer || ahead);
    RC_ASSERT(quote.jobs.size() == static_cast<std::size_t>(quote.lives + quote.notFollowed));
}

} // namespace
} // namespace milehold::core
