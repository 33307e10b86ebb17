// SPDX-License-Identifier: GPL-3.0-or-later
// What holds for every history: the order of its records, the unit and the instrument change nothing; best is
// never below known, known never below worst.
#include "core/life/calls.h"
#include "core/life/life_sums.h"
#include "core/life/odometer.h"
#include "core/life/readings.h"
#include "tests/properties/random_records.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

using namespace testing_support;

std::vector<Life> derived(const VehicleHistory& past, Date today = day("2034-01-01")) {
    const SmallShelf s;
    const auto lives = deriveLives(past, ShopSettings{}, today, &s.shelf);
    RC_ASSERT(lives.has_value());
    return *lives;
}

RC_GTEST_PROP(LifeProperties, TheOrderOfRecordsDoesNotMatter, ()) {
    const VehicleHistory past = anyHistory();
    VehicleHistory other = past;
    shuffle(other.jobs);
    shuffle(other.followUps);
    shuffle(other.odometers);
    RC_ASSERT(derived(past) == derived(other));
}

RC_GTEST_PROP(LifeProperties, EveryLifeIsInOrder, ()) {
    const VehicleHistory past = anyHistory();
    const auto lives = derived(past);
    const auto repairs = std::count_if(past.jobs.begin(), past.jobs.end(), [](const Job& made) {
        return made.kind != JobKind::Visit && made.isDelivered() && !made.isVoid();
    });
    RC_ASSERT(static_cast<std::ptrdiff_t>(lives.size()) == repairs);
    for (std::size_t i = 0; i < lives.size(); ++i) {
        const Life& life = lives[i];
        RC_ASSERT(life.ordinal == static_cast<int>(i) + 1);
        RC_ASSERT(life.known >= Distance() && life.entry >= Distance() && life.unseen >= Distance());
        RC_ASSERT(!life.until || (life.cameBack() && *life.until > life.known));
        RC_ASSERT((life.otherEnd != OtherEnd::None) == (life.state == LifeState::EndedOtherwise));
        RC_ASSERT((life.lostReason != LostReason::None) == (life.state == LifeState::LostSight));
        const bool open = life.state == LifeState::Holding || life.state == LifeState::LostSight;
        RC_ASSERT(open || life.unseen == Distance() || life.otherEnd == OtherEnd::RepairedElsewhere);
        RC_ASSERT(life.state != LifeState::NeverHeld || (life.known == Distance() && !life.until));
        RC_ASSERT(life.lastKnownOn >= life.repairedOn);
        RC_ASSERT(life.sources.front() == (RecordRef{RecordRef::Kind::Job, life.job.uuid}));
    }
    for (const auto reading : {Reading::Best, Reading::Known, Reading::Worst})
        for (const auto intervals : {Intervals::AsRead, Intervals::AtSeen, Intervals::Keep})
            RC_ASSERT(validate(toColumns(lives, DistanceUnit::Miles, reading, intervals).lives).has_value());
}

RC_GTEST_PROP(LifeProperties, TodayOnlyMovesWhatIsUnseenAndLost, ()) {
    const VehicleHistory past = anyHistory();
    const auto sooner = derived(past, day("2034-01-01"));
    const auto later = derived(past, day("2036-01-01"));
    for (std::size_t i = 0; i < sooner.size(); ++i) {
        RC_ASSERT(sooner[i].known == later[i].known && sooner[i].until == later[i].until);
        RC_ASSERT(sooner[i].cameBack() == later[i].cameBack() && sooner[i].otherEnd == later[i].otherEnd);
    }
}

RC_GTEST_PROP(LifeProperties, AReplacedInstrumentChangesNoDistance, ()) {
    VehicleHistory past = anyHistory();
    const Date on = addDays(day("2026-01-05"), *rc::gen::inRange(1, 1500));
    // No record on the day itself, whose order would not be known.
    const auto isThatDay = [&](Date date) { return date == on; };
    for (const auto& made : past.jobs)
        RC_PRE(!isThatDay(made.writtenUp));
    for (const auto& told : past.followUps)
        RC_PRE(!isThatDay(told.date));
    for (const auto& taken : past.odometers)
        RC_PRE(!isThatDay(taken.date));
    VehicleHistory replaced = past;
    const Distance offset = miles(*rc::gen::inRange(1, 19'000));
    const auto lower = [&](Date date, std::optional<Distance>& shown) {
        if (date > on && shown)
            shown = *shown - offset;
    };
    for (auto& made : replaced.jobs) {
        lower(made.writtenUp, made.odometerIn);
        lower(made.writtenUp, made.odometerOut);
        lower(made.writtenUp, made.firstSeen);
    }
    for (auto& told : replaced.followUps) {
        lower(told.date, told.odometer);
        lower(told.date, told.noiseSince);
    }
    for (auto& taken : replaced.odometers)
        if (taken.date > on)
            taken.shown = taken.shown - offset;
    // What the new instrument showed on the day of the replacement; the old one would have shown as much
    // more.
    OdometerReading replacement = reading(200, toIso(on), 0);
    Distance run = miles(20'000);
    for (const auto& seen : sightings(past, Instruments(past)))
        if (seen.date <= on && !seen.estimated)
            run = std::max(run, seen.run);
    replacement.shown = run - offset;
    past.odometers.push_back(replacement);
    past.odometers.back().shown = run;
    replacement.resetOffset = offset;
    replaced.odometers.push_back(replacement);
    auto before = derived(past);
    auto after = derived(replaced);
    for (auto* lives : {&before, &after})
        for (auto& life : *lives)
            life.sources.clear();
    RC_ASSERT(before == after);
}

RC_GTEST_PROP(LifeProperties, AnotherQuietCallNeverShortensWhatIsKnown, ()) {
    VehicleHistory past = anyHistory();
    const auto before = derived(past);
    const Life& last = before.empty() ? Life{} : before.back();
    RC_PRE(last.state == LifeState::Holding || last.state == LifeState::LostSight);
    Distance furthest = miles(20'000);
    for (const auto& seen : sightings(past, Instruments(past)))
        furthest = std::max(furthest, seen.run);
    FollowUp told = heard(201, 0, "2033-12-01", FollowUpOutcome::Quiet);
    told.job = last.job;
    told.odometer = furthest + miles(*rc::gen::inRange(0, 9'000));
    past.followUps.push_back(told);
    const auto after = derived(past);
    for (std::size_t i = 0; i < before.size(); ++i) {
        RC_ASSERT(after[i].known >= before[i].known);
        RC_ASSERT(after[i].cameBack() == before[i].cameBack());
    }
    RC_ASSERT(after.back().lastKnownOn == day("2033-12-01"));
}

RC_GTEST_PROP(ReadingProperties, BestIsNeverBelowKnownNorKnownBelowWorst, ()) {
    const auto curves = readingCurves(anyLives(), DistanceUnit::Kilometres);
    RC_PRE(curves.has_value());
    for (int tenth = 0; tenth <= 1100; ++tenth) {
        const ThreeReadings at = curves->at(tenth / 10.0);
        RC_ASSERT(!at.best || !at.known || *at.best >= *at.known - 1e-12);
        RC_ASSERT(!at.known || !at.worst || *at.known >= *at.worst - 1e-12);
    }
}

RC_GTEST_PROP(ReadingProperties, TheUnitDoesNotMatter, ()) {
    const auto lives = anyLives();
    const auto inKm = readingCurves(lives, DistanceUnit::Kilometres);
    const auto inMiles = readingCurves(lives, DistanceUnit::Miles);
    RC_ASSERT(inKm.has_value() == inMiles.has_value());
    RC_PRE(inKm.has_value());
    RC_ASSERT(inKm->known.survival == inMiles->known.survival);
    RC_ASSERT(inKm->best.survival == inMiles->best.survival);
    RC_ASSERT(inKm->worst.begin.survival == inMiles->worst.begin.survival);
    RC_ASSERT(inKm->worst.seen.survival == inMiles->worst.seen.survival);
}

RC_GTEST_PROP(ReadingProperties, TheTippingShareBringsTheClaimDownAndLessDoesNot, ()) {
    const auto lives = anyLives();
    const double claim = *rc::gen::inRange(1, 100) / 100.0;
    const auto point = tippingPoint(lives, DistanceUnit::Kilometres, claim, km(*rc::gen::inRange(1, 60)));
    RC_PRE(point.has_value());
    RC_ASSERT(point->best >= point->worst - 1e-12);
    using Verdict = TippingPoint::Verdict;
    RC_ASSERT((point->verdict == Verdict::Falls) == point->share.has_value());
    if (point->verdict == Verdict::Falls)
        RC_ASSERT(*point->share > 0 && *point->share <= 1 && point->worst < claim && point->best >= claim);
    if (point->verdict == Verdict::HoldsAnyway)
        RC_ASSERT(point->worst >= claim);
    if (point->verdict == Verdict::FailsAnyway)
        RC_ASSERT(point->best < claim);
}

// Two ways to the same figures: curves drawn life by life, and sums that the Office counts by.
RC_GTEST_PROP(SumProperties, AreWhatIsCountedLifeByLife, ()) {
    const auto lives = anyLives();
    const auto unit = *rc::gen::element(DistanceUnit::Miles, DistanceUnit::Kilometres);
    const LifeSums sums = sumsOf(marksOf(lives), unit);
    const auto counted = [&](Reading reading, Intervals intervals) {
        return countsOfAll(toColumns(lives, unit, reading, intervals).lives);
    };
    RC_ASSERT(sums.known == counted(Reading::Known, Intervals::AsRead));
    RC_ASSERT(sums.best == counted(Reading::Best, Intervals::AsRead));
    RC_ASSERT(sums.begin == counted(Reading::Worst, Intervals::AsRead));
    RC_ASSERT(sums.seen == counted(Reading::Worst, Intervals::AtSeen));
    const auto evidence = evidenceOf(lives, unit);
    RC_ASSERT(evidence.has_value());
    RC_ASSERT(evidence->lives == sums.evidence.lives);
    RC_ASSERT(evidence->contributing == sums.evidence.contributing);
    RC_ASSERT(evidence->followed == sums.evidence.followed);
    RC_ASSERT(evidence->cameBack == sums.evidence.cameBack);
    RC_ASSERT(evidence->lostSight == sums.evidence.lostSight);
    RC_ASSERT(evidence->known == sums.evidence.known);
    RC_ASSERT(evidence->unseen == sums.evidence.unseen);
    RC_ASSERT(evidence->completeness == sums.evidence.completeness);
    RC_ASSERT(evidence->medianWatch == sums.evidence.medianWatch);
    const auto curves = readingCurves(lives, unit);
    RC_PRE(curves.has_value());
    for (int tenth = 0; tenth <= 1100; tenth += 7) {
        const ThreeReadings drawn = curves->at(tenth / 10.0);
        const ThreeReadings summed = readingsAt(sums, tenth / 10.0);
        RC_ASSERT(drawn.best == summed.best);
        RC_ASSERT(drawn.known == summed.known);
        RC_ASSERT(drawn.worst == summed.worst);
    }
}

RC_GTEST_PROP(SumProperties, OfPartsTogetherAreThoseOfAll, ()) {
    const auto marks = marksOf(anyLives());
    RC_PRE(!marks.empty());
    std::vector<std::vector<LifeMark>> parts(3);
    for (const LifeMark& mark : marks)
        parts[*rc::gen::inRange<std::size_t>(0, 3)].push_back(mark);
    std::vector<LifeSums> sums;
    for (const auto& part : parts)
        sums.push_back(sumsOf(part, DistanceUnit::Miles));
    const LifeSums together = merged(std::span<const LifeSums>(sums));
    const LifeSums all = sumsOf(marks, DistanceUnit::Miles);
    RC_ASSERT(together.known == all.known && together.best == all.best);
    RC_ASSERT(together.begin == all.begin && together.seen == all.seen);
    RC_ASSERT(together.evidence.lives == all.evidence.lives);
    RC_ASSERT(together.evidence.followed == all.evidence.followed);
    RC_ASSERT(std::abs(together.evidence.known - all.evidence.known) <= 1e-9 * (1 + all.evidence.known));
    RC_ASSERT(together.evidence.medianWatch == all.evidence.medianWatch);
    RC_ASSERT(together.unseenFrom.size() == all.unseenFrom.size());
}

// The chance with a share of the unseen lives failed, from weighted lives instead of mixed counts.
RC_GTEST_PROP(ReadingProperties, TheTippingShareIsThatOfWeightedLives, ()) {
    auto lives = anyLives();
    lives.push_back(openLife(200, km(5))); // nobody has checked it from before the horizon to beyond
    lives.back().unseen = km(60);
    const Distance horizon = km(30);
    const auto ends = tippingPoint(lives, DistanceUnit::Kilometres, 0.5, horizon);
    RC_ASSERT(ends.has_value() && ends->unseenLives > 0);
    const double claim = (ends->best + ends->worst) / 2; // between the two, so that it falls
    RC_PRE(claim > ends->worst);
    const auto point = tippingPoint(lives, DistanceUnit::Kilometres, claim, horizon);
    RC_ASSERT(point.has_value() && point->share.has_value());
    const Lives quiet = toColumns(lives, DistanceUnit::Kilometres, Reading::Best).lives;
    const Lives failed = toColumns(lives, DistanceUnit::Kilometres, Reading::Worst, Intervals::AtSeen).lives;
    const auto chance = [&](double share) {
        Lives mixed;
        mixed.endNames = quiet.endNames;
        const auto add = [&mixed](const Lives& from, std::size_t i, double weight) {
            if (weight <= 0)
                return;
            mixed.miles.push_back(from.miles[i]);
            mixed.end.push_back(from.end[i]);
            mixed.entry.push_back(from.entryOf(i));
            mixed.weight.push_back(weight);
        };
        for (std::size_t i = 0; i < quiet.size(); ++i) {
            add(quiet, i, 1 - share);
            add(failed, i, share);
        }
        const Counts counts = countsOfAll(mixed);
        const auto watched = counts.watched();
        double product = 1;
        for (std::size_t i = 0; i < counts.size() && counts.miles[i] <= horizon.in(DistanceUnit::Kilometres);
             ++i)
            product *= counts.comebacks[i] > 0 ? 1 - counts.comebacks[i] / watched[i] : 1;
        return product;
    };
    RC_ASSERT(chance(*point->share) < claim + 1e-9);
    RC_ASSERT(chance(std::max(0.0, *point->share - 1e-6)) >= claim - 1e-9);
    RC_ASSERT(std::abs(chance(1) - point->worst) < 1e-12);
    RC_ASSERT(std::abs(chance(0) - point->best) < 1e-12);
}

RC_GTEST_PROP(CallProperties, TheRankingDoesNotDependOnTheOrderOfLives, ()) {
    const SmallShelf s;
    std::vector<LifeRecord> lives;
    std::vector<CallFacts> facts;
    for (const auto& life : anyLives()) {
        LifeRecord record;
        record.life = life;
        record.life.repairedOn = record.life.lastKnownOn = day("2030-01-01");
        lives.push_back(record);
        CallFacts fact;
        fact.job = life.job;
        fact.unanswered = *rc::gen::inRange(0, 3);
        facts.push_back(fact);
    }
    CallOptions options;
    options.unit = DistanceUnit::Kilometres;
    options.horizon = km(*rc::gen::inRange(1, 70));
    options.today = day("2031-01-01");
    const auto ranked = rankCalls(lives, facts, {s.shelf, {}}, options);
    shuffle(lives);
    shuffle(facts);
    const auto again = rankCalls(lives, facts, {s.shelf, {}}, options);
    RC_ASSERT(ranked.has_value() && again.has_value() && ranked->size() == again->size());
    for (std::size_t i = 0; i < ranked->size(); ++i) {
        RC_ASSERT((*ranked)[i].job == (*again)[i].job);
        RC_ASSERT(std::isfinite((*ranked)[i].worthAMinute) && (*ranked)[i].chanceNoisy >= -1e-12);
        RC_ASSERT(i == 0 || (*ranked)[i - 1].worthAMinute >= (*ranked)[i].worthAMinute);
    }
}

} // namespace
} // namespace milehold::core
