// SPDX-License-Identifier: GPL-3.0-or-later
// Other ends of a life, losing sight, instruments, repairs elsewhere and repeat repairs.
#include "tests/core/life/derived_life.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

using namespace testing_support;

TEST_F(DerivedLife, EndsOtherwiseWhenScrapped) {
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::Quiet, 44'000),
                      heard(2, 1, "2030-08-01", FollowUpOutcome::Scrapped, 47'000)};
    const Life life = first();
    EXPECT_EQ(life.state, LifeState::EndedOtherwise);
    EXPECT_EQ(life.otherEnd, OtherEnd::Scrapped);
    EXPECT_EQ(life.known, miles(47'000) - miles(40'000));
    EXPECT_EQ(life.unseen, Distance());
    EXPECT_EQ(life.lastKnownOn, day("2030-08-01"));
    past.followUps[1].odometer = std::nullopt;
    EXPECT_EQ(first().known, miles(44'000) - miles(40'000)) << "at the last that is known of it";
}

TEST_F(DerivedLife, EndsOtherwiseWhenRepairedElsewhere) {
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::RepairedElsewhere, 47'000)};
    EXPECT_EQ(first().otherEnd, OtherEnd::RepairedElsewhere);
    past.followUps.clear();
    Job other = repair(2, "2030-08-01", 46'000);
    other.kind = JobKind::Elsewhere;
    past.jobs.push_back(other);
    EXPECT_EQ(first().state, LifeState::EndedOtherwise);
    EXPECT_EQ(first().otherEnd, OtherEnd::RepairedElsewhere);
}

// Nobody of this shop heard the vehicle on its way there (the shop's own convention).
TEST_F(DerivedLife, IsKnownOnlyToItsLastQuietWhenRepairedElsewhere) {
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::Quiet, 44'000),
                      heard(2, 1, "2030-08-01", FollowUpOutcome::RepairedElsewhere, 47'000)};
    const Life life = first();
    EXPECT_EQ(life.state, LifeState::EndedOtherwise);
    EXPECT_EQ(life.known, miles(44'000) - miles(40'000));
    EXPECT_EQ(life.unseen, miles(47'000) - miles(44'000));
    EXPECT_EQ(life.lastKnownOn, day("2030-05-01"));
    EXPECT_TRUE(life.mayHaveFailed());
    EXPECT_TRUE(isFrom(refTo(call(2))));
    past.followUps[1].odometer = std::nullopt;
    EXPECT_EQ(first().unseen, Distance());
    EXPECT_TRUE(first().mayHaveFailed()) << "it was taken there for some reason";
}

TEST_F(DerivedLife, EndsOtherwiseWhenTheSameComponentsAreReplacedWithoutTheConcern) {
    past.jobs[0].parts = {{s.oldPhaser, Position{1, CamRole::Intake}, "", 1, Money{}}};
    Job later = repair(2, "2030-08-01", 47'000);
    later.concernGroup = ConcernGroup::OilLeak;
    later.parts = {
        {s.newPhaser, Position{1, CamRole::Intake}, "", 1, Money{}}}; // another revision, same component
    past.jobs.push_back(later);
    EXPECT_EQ(first().state, LifeState::EndedOtherwise);
    EXPECT_EQ(first().otherEnd, OtherEnd::Replaced);
    EXPECT_EQ(first().known, miles(47'000) - miles(40'000));
    past.jobs[1].parts[0].position = Position{1, CamRole::Exhaust};
    EXPECT_EQ(first().state, LifeState::Holding) << "another place";
    EXPECT_EQ(first().known, miles(47'000) - miles(40'000)) << "a quiet visit as far as this repair goes";
    past.jobs[1].parts = {{s.valve, Position{1, CamRole::Intake}, "", 1, Money{}}};
    EXPECT_EQ(first().state, LifeState::Holding) << "another component";
}

TEST_F(DerivedLife, TakesTheSamePathForTheSameComponentsWherePartsAreNotListed) {
    Job later = repair(2, "2030-08-01", 47'000);
    later.concernGroup = ConcernGroup::OilLeak;
    past.jobs.push_back(later);
    EXPECT_EQ(first().otherEnd, OtherEnd::Replaced);
    past.jobs[1].path = s.valves;
    EXPECT_EQ(first().state, LifeState::Holding);
}

TEST_F(DerivedLife, StaysUndecidedWhenTheSameComponentsAreReplacedWithTheConcernAndNoLink) {
    past.jobs.push_back(repair(2, "2030-08-01", 47'000)); // same concern, same path, nobody linked it
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::Quiet, 44'000),
                      heard(2, 2, "2030-12-01", FollowUpOutcome::Quiet, 52'000)};
    const Life life = first();
    EXPECT_EQ(life.state, LifeState::Holding);
    EXPECT_EQ(life.known, miles(44'000) - miles(40'000)) << "the later call speaks of the later repair";
    EXPECT_EQ(life.unseen, miles(47'000) - miles(44'000)) << "unseen until the parts came off";
    ASSERT_EQ(all().size(), 2U);
    EXPECT_EQ(all()[1].known, miles(52'000) - miles(47'000));
    past.followUps.push_back(heard(3, 1, "2030-08-01", FollowUpOutcome::Quiet, 46'000));
    EXPECT_EQ(first().known, miles(46'000) - miles(40'000)) << "said of it on that very day";
    past.followUps.back().date = day("2030-08-02");
    EXPECT_EQ(first().known, miles(44'000) - miles(40'000)) << "on the next day nothing speaks of it";
}

TEST_F(DerivedLife, EndsAtItsLastQuietWhenTheNoiseWasPutDownToALaterRepair) {
    Job valves = repair(2, "2030-06-01", 45'000);
    valves.path = s.valves;
    valves.concernGroup = ConcernGroup::OilLeak;
    Job third = comeback(3, 2, "2030-08-01", 47'000); // of job 2
    third.path = past.jobs[0].path;
    third.delivered = day("2030-08-02");
    third.odometerOut = miles(47'001);
    past.jobs.push_back(valves);
    past.jobs.push_back(third);
    const auto lives = all();
    ASSERT_EQ(lives.size(), 3U);
    EXPECT_EQ(lives[0].state, LifeState::EndedOtherwise);
    EXPECT_EQ(lives[0].otherEnd, OtherEnd::Replaced);
    EXPECT_EQ(lives[0].known, miles(45'000) - miles(40'000));
    EXPECT_EQ(lives[1].state, LifeState::CameBack);
}

TEST_F(DerivedLife, GivesTheComebackBeforeAnotherEndOfTheSameDay) {
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::NoiseBack, 47'000),
                      heard(2, 1, "2030-08-01", FollowUpOutcome::RepairedElsewhere, 47'000)};
    EXPECT_EQ(first().state, LifeState::CameBack);
    past.followUps[0].date = day("2030-08-02");
    EXPECT_EQ(first().state, LifeState::EndedOtherwise) << "heard of after the end";
    past.followUps[0].noiseSince = miles(46'000);
    EXPECT_EQ(first().state, LifeState::CameBack) << "but noticed before it";
    EXPECT_EQ(first().known, miles(46'000) - miles(40'000));
}

TEST_F(DerivedLife, IsLostSightOfWhenSoldWithoutContactSince) {
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::Quiet, 44'000),
                      heard(2, 1, "2030-08-01", FollowUpOutcome::Sold)};
    EXPECT_EQ(first().state, LifeState::LostSight);
    EXPECT_EQ(first().lostReason, LostReason::Sold);
    EXPECT_EQ(first().known, miles(44'000) - miles(40'000));
    EXPECT_GT(first().unseen, Distance());
    EXPECT_TRUE(isFrom(refTo(call(2))));
    past.jobs.push_back(visit(2, "2030-11-01", 49'000)); // the new owner comes in
    EXPECT_EQ(first().state, LifeState::Holding);
    EXPECT_EQ(first().known, miles(49'000) - miles(40'000));
}

TEST_F(DerivedLife, IsLostSightOfWhenNobodyMayCall) {
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::DoNotCall)};
    EXPECT_EQ(first().state, LifeState::LostSight);
    EXPECT_EQ(first().lostReason, LostReason::DoNotCall);
    past.followUps.clear();
    past.doNotCall = true;
    EXPECT_EQ(first().lostReason, LostReason::DoNotCall);
}

TEST_F(DerivedLife, IsLostSightOfAfterTheShopsMonthsWithoutContact) {
    today = day("2031-07-10"); // 18 months after delivery
    EXPECT_EQ(first().state, LifeState::Holding);
    today = day("2031-07-11");
    EXPECT_EQ(first().state, LifeState::LostSight);
    EXPECT_EQ(first().lostReason, LostReason::NoContact);
    rules.lostAfterMonths = 24;
    EXPECT_EQ(first().state, LifeState::Holding);
    rules.lostAfterMonths = 18;
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::NoAnswer)};
    EXPECT_EQ(first().state, LifeState::LostSight) << "nobody was reached";
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::CallLater)};
    EXPECT_EQ(first().state, LifeState::Holding);
}

TEST_F(DerivedLife, EstimatesUnseenDistanceByTheTimeSinceLastQuiet) {
    past.followUps = {heard(1, 1, "2030-01-20", FollowUpOutcome::Quiet, 40'300)};
    today = day("2031-01-20"); // 365 days
    const Life life = first();
    EXPECT_EQ(life.yearly.source, YearlySource::ShopDefault);
    EXPECT_EQ(life.unseen, Distance::fromMetres(std::llround(12'000 * 1609.344 * 365 / 365.25)));
    today = day("2030-01-15"); // before the last news
    EXPECT_EQ(first().unseen, Distance());
}

TEST_F(DerivedLife, AddsAReplacedInstrumentBack) {
    past.odometers = {reading(1, "2030-06-01", 10)};
    past.odometers[0].resetOffset = miles(45'000);
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::Quiet, 2'000)}; // really 47,000
    EXPECT_EQ(first().known, miles(2'000) + miles(45'000) - miles(40'000));
    EXPECT_TRUE(isFrom(refTo(key<OdometerId>(1))));
}

TEST_F(DerivedLife, AddsTwoReplacedInstrumentsBack) {
    past.odometers = {reading(1, "2030-03-01", 0), reading(2, "2030-06-01", 0)};
    past.odometers[0].resetOffset = miles(42'000);
    past.odometers[1].resetOffset = miles(45'000);
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::Quiet, 1'500)}; // really 43,500
    EXPECT_EQ(first().known, miles(1'500) + miles(42'000) - miles(40'000));
    past.followUps.push_back(heard(2, 1, "2030-08-01", FollowUpOutcome::Quiet, 2'000)); // really 47,000
    EXPECT_EQ(first().known, miles(2'000) + miles(45'000) - miles(40'000));
}

TEST_F(DerivedLife, CountsFromTheNewInstrumentWhenItWasReplacedAtTheRepair) {
    past.odometers = {reading(1, "2030-01-10", 0)};
    past.odometers[0].resetOffset = miles(40'000);
    past.jobs[0].odometerOut = miles(2); // in 40,000 on the old one, out 2 on the new one
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::Quiet, 7'002)};
    EXPECT_EQ(first().known, miles(7'002) - miles(2));
    EXPECT_TRUE(isFrom(refTo(key<OdometerId>(1)))) << "the distance rests on that replacement";
}

TEST_F(DerivedLife, OfARepairElsewhereIsWatchedFromWhereItWasFirstSeen) {
    past.jobs[0].kind = JobKind::Elsewhere;
    past.jobs[0].deliveryCheck = DeliveryCheck::NotDone;
    past.jobs[0].firstSeen = miles(45'000);
    past.jobs.push_back(visit(2, "2030-06-01", 45'000));
    EXPECT_EQ(first().entry, miles(45'000) - miles(40'000));
    EXPECT_EQ(first().known, miles(45'000) - miles(40'000));
    EXPECT_FALSE(first().contributes) << "known quiet does not pass its entry";
    past.jobs.push_back(visit(3, "2030-09-01", 49'000));
    EXPECT_TRUE(first().contributes);
    EXPECT_EQ(first().known, miles(49'000) - miles(40'000));
}

TEST_F(DerivedLife, OfARepairElsewhereTakesTheFirstSightWhereNoneWasWritten) {
    past.jobs[0].kind = JobKind::Elsewhere;
    past.jobs[0].deliveryCheck = DeliveryCheck::NotDone;
    EXPECT_FALSE(first().contributes) << "never seen since";
    past.jobs.push_back(visit(2, "2030-06-01", 44'000));
    past.jobs.push_back(visit(3, "2030-09-01", 49'000));
    EXPECT_EQ(first().entry, miles(44'000) - miles(40'000));
    EXPECT_TRUE(first().contributes);
}

TEST_F(DerivedLife, OfARepairElsewhereThatCameBackCountsOnlyWhenItWasQuietAtItsEntry) {
    past.jobs[0].kind = JobKind::Elsewhere;
    past.jobs[0].deliveryCheck = DeliveryCheck::NotDone;
    past.jobs[0].firstSeen = miles(45'000);
    past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
    EXPECT_FALSE(first().contributes) << "perhaps it was noisy when first seen";
    past.jobs.push_back(visit(3, "2030-06-01", 45'000));
    EXPECT_TRUE(first().contributes);
    EXPECT_EQ(first().known, miles(45'000) - miles(40'000));
    EXPECT_EQ(first().until, miles(47'000) - miles(40'000));
}

TEST_F(DerivedLife, OfARepeatRepairIsANewLifeWithItsOrdinal) {
    Job second = comeback(2, 1, "2030-08-01", 47'000);
    second.delivered = day("2030-08-03");
    second.odometerOut = miles(47'005);
    second.deliveryCheck = DeliveryCheck::Quiet;
    past.jobs.insert(past.jobs.begin(), second); // in any order
    past.followUps = {heard(1, 2, "2030-12-01", FollowUpOutcome::Quiet, 50'000)};
    const auto lives = all();
    ASSERT_EQ(lives.size(), 2U);
    EXPECT_EQ(lives[0].job, job(1));
    EXPECT_EQ(lives[0].ordinal, 1);
    EXPECT_EQ(lives[0].state, LifeState::CameBack);
    EXPECT_EQ(lives[1].job, job(2));
    EXPECT_EQ(lives[1].ordinal, 2);
    EXPECT_EQ(lives[1].state, LifeState::Holding);
    EXPECT_EQ(lives[1].known, miles(50'000) - miles(47'005));
    EXPECT_EQ(lives[0].vehicle, lives[1].vehicle);
}

TEST_F(DerivedLife, LeavesVoidedJobsAndTheirCallsOut) {
    past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
    past.jobs[1].voidReason = "wrong vehicle";
    EXPECT_EQ(first().state, LifeState::Holding);
    EXPECT_EQ(first().known, Distance());
    past.jobs.push_back(repair(3, "2030-09-01", 48'000));
    past.jobs[2].voidReason = "typed twice";
    past.followUps = {heard(1, 3, "2030-10-01", FollowUpOutcome::Quiet, 50'000)};
    EXPECT_EQ(all().size(), 1U);
    EXPECT_EQ(first().known, Distance());
}

TEST_F(DerivedLife, IsNotMadeOfAJobInWorkOrAVisit) {
    past.jobs[0].delivered = std::nullopt;
    past.jobs.push_back(visit(2, "2030-08-01", 47'000));
    EXPECT_TRUE(all().empty());
}

TEST_F(DerivedLife, TakesLinesOfOneRepairOrderForOneDayNotForAReturn) {
    Job line = repair(2, "2030-01-10", 40'000);
    line.path = s.valves;
    past.jobs.push_back(line);
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::Quiet, 47'000)};
    const auto lives = all();
    ASSERT_EQ(lives.size(), 2U);
    for (const auto& life : lives) {
        EXPECT_EQ(life.state, LifeState::Holding);
        EXPECT_EQ(life.known, miles(47'000) - miles(40'000))
            << "the call about one speaks of the same concern";
    }
}

TEST_F(DerivedLife, IsNotEndedByAnotherLineOfItsOwnRepairOrder) {
    Job line = repair(2, "2030-01-10", 40'000); // the same path, no parts listed, another concern
    line.concernGroup = ConcernGroup::OilLeak;
    past.jobs.push_back(line);
    EXPECT_EQ(first().state, LifeState::Holding);
    past.jobs[1].odometerIn = miles(40'001); // back the same day, further on
    EXPECT_EQ(first().otherEnd, OtherEnd::Replaced);
}

TEST_F(DerivedLife, IsNotEndedByAFreshSealOrOil) {
    PartNumber seal;
    seal.id = key<PartNumberId>(20);
    seal.number = "QS-3";
    seal.component = Component::Seal;
    s.shelf.parts.push_back(seal);
    past.jobs[0].parts = {{s.newPhaser, Position{1, CamRole::Intake}, "", 1, Money{}},
                          {seal.id, std::nullopt, "", 1, Money{}}};
    past.jobs.push_back(visit(2, "2030-08-01", 47'000));
    past.jobs[1].delivered = day("2030-08-01");
    past.jobs[1].parts = {{seal.id, std::nullopt, "", 1, Money{}}};
    EXPECT_EQ(first().state, LifeState::Holding);
}

TEST_F(DerivedLife, OfAVehicleSoldIsLostByThatEvenWhenItsOwnerWantsNoMoreCalls) {
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::Sold),
                      heard(2, 1, "2030-05-01", FollowUpOutcome::DoNotCall),
                      heard(3, 1, "2030-05-01", FollowUpOutcome::Quiet, 44'000)};
    EXPECT_EQ(first().lostReason, LostReason::Sold);
    EXPECT_EQ(first().known, miles(44'000) - miles(40'000));
}

TEST_F(DerivedLife, IsTheSameAsIfAVoidedAnswerHadNeverBeenLogged) {
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::Quiet, 44'000)};
    const Life without = first();
    for (const FollowUpOutcome outcome :
         {FollowUpOutcome::Quiet, FollowUpOutcome::NoiseBack, FollowUpOutcome::Sold,
          FollowUpOutcome::Scrapped, FollowUpOutcome::RepairedElsewhere, FollowUpOutcome::NoAnswer,
          FollowUpOutcome::CallLater, FollowUpOutcome::DoNotCall}) {
        past.followUps.resize(1);
        past.followUps.push_back(heard(2, 1, "2030-08-01", outcome, 60'000));
        if (outcome != FollowUpOutcome::NoAnswer) {
            EXPECT_FALSE(first() == without) << static_cast<int>(outcome);
        }
        past.followUps[1].voidReason = "the wrong customer";
        EXPECT_TRUE(first() == without) << static_cast<int>(outcome);
    }
}

TEST_F(DerivedLife, RefusesADayThatIsNoneAndARepairWithoutAnOdometer) {
    EXPECT_EQ(deriveLives(past, rules, Date{}).error().code, ErrorCode::InvalidInput);
    past.jobs[0].odometerIn = past.jobs[0].odometerOut = std::nullopt;
    EXPECT_EQ(deriveLives(past, rules, today).error().code, ErrorCode::InvalidInput);
}

} // namespace
} // namespace milehold::core
