// SPDX-License-Identifier: GPL-3.0-or-later
// What the records say of a repair while it is watched: quiet, noise, and what was decided about it.
#include "tests/core/life/derived_life.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

using namespace testing_support;

TEST_F(DerivedLife, OfAQuietDeliveryHoldsFromZero) {
    const Life life = first();
    EXPECT_EQ(life.state, LifeState::Holding);
    EXPECT_EQ(life.job, job(1));
    EXPECT_EQ(life.vehicle, past.vehicle.id);
    EXPECT_EQ(life.path, past.jobs[0].path);
    EXPECT_EQ(life.ordinal, 1);
    EXPECT_EQ(life.known, Distance());
    EXPECT_EQ(life.entry, Distance());
    EXPECT_FALSE(life.until);
    EXPECT_EQ(life.repairedOn, day("2030-01-10"));
    EXPECT_EQ(life.lastKnownOn, day("2030-01-10"));
    EXPECT_TRUE(life.contributes) << "it was watched at 0: the delivery check was made";
    EXPECT_EQ(life.sources, (std::vector{refTo(job(1))}));
}

TEST_F(DerivedLife, OfANoisyDeliveryNeverHeldWhateverCameAfter) {
    past.jobs[0].deliveryCheck = DeliveryCheck::Noisy;
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::Quiet, 47'000)};
    const Life life = first();
    EXPECT_EQ(life.state, LifeState::NeverHeld);
    EXPECT_TRUE(life.cameBack());
    EXPECT_EQ(life.known, Distance());
    EXPECT_FALSE(life.until);
    EXPECT_EQ(life.unseen, Distance());
    EXPECT_TRUE(life.contributes);
}

TEST_F(DerivedLife, WithoutADeliveryCheckOrAnyNewsContributesNothing) {
    past.jobs[0].deliveryCheck = DeliveryCheck::NotDone;
    EXPECT_FALSE(first().contributes);
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::Quiet, 47'000)};
    EXPECT_TRUE(first().contributes);
}

TEST_F(DerivedLife, MovesKnownQuietWithAQuietCall) {
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::Quiet, 44'000),
                      heard(2, 1, "2030-08-01", FollowUpOutcome::Quiet, 47'250)};
    const Life life = first();
    EXPECT_EQ(life.state, LifeState::Holding);
    EXPECT_EQ(life.known, miles(47'250) - miles(40'000));
    EXPECT_EQ(life.lastKnownOn, day("2030-08-01"));
    EXPECT_EQ(life.sources, (std::vector{refTo(job(1)), refTo(call(1)), refTo(call(2))}));
}

TEST_F(DerivedLife, MovesKnownQuietWithAVisitForSomethingElseWhenTheShopSaysSo) {
    past.jobs.push_back(visit(2, "2030-08-01", 47'000));
    EXPECT_EQ(first().known, miles(47'000) - miles(40'000));
    EXPECT_TRUE(isFrom(refTo(job(2))));
    rules.quietVisitCounts = false;
    EXPECT_EQ(first().known, Distance());
    EXPECT_FALSE(isFrom(refTo(job(2))));
}

TEST_F(DerivedLife, DoesNotTakeAVisitWithTheConcernAsQuiet) {
    past.jobs.push_back(visit(2, "2030-08-01", 47'000));
    past.jobs[1].concernGroup = ConcernGroup::StartupRattle;
    EXPECT_EQ(first().known, Distance());
    past.jobs[1].concernGroup = ConcernGroup::OilLeak;
    EXPECT_EQ(first().known, miles(47'000) - miles(40'000));
}

TEST_F(DerivedLife, EndsAtAnExactDistanceWhenTheNoiseWasNoticedThere) {
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::Quiet, 44'000),
                      heard(2, 1, "2030-08-01", FollowUpOutcome::NoiseBack, 47'000)};
    past.followUps[1].noiseSince = miles(46'500);
    const Life life = first();
    EXPECT_EQ(life.state, LifeState::CameBack);
    EXPECT_EQ(life.known, miles(46'500) - miles(40'000));
    EXPECT_FALSE(life.until);
    EXPECT_EQ(life.lastKnownOn, day("2030-08-01"));
    EXPECT_EQ(life.unseen, Distance());
    EXPECT_TRUE(isFrom(refTo(call(2))));
}

TEST_F(DerivedLife, EndsBetweenLastQuietAndSeenNoisyWhenNobodyKnowsSinceWhen) {
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::Quiet, 44'000),
                      heard(2, 1, "2030-08-01", FollowUpOutcome::NoiseBack, 47'000)};
    const Life life = first();
    EXPECT_EQ(life.state, LifeState::CameBack);
    EXPECT_EQ(life.known, miles(44'000) - miles(40'000));
    EXPECT_EQ(life.until, miles(47'000) - miles(40'000));
}

TEST_F(DerivedLife, EndsBetweenZeroAndSeenNoisyWhenOnlyTheRepairItselfWasQuiet) {
    past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
    const Life life = first();
    EXPECT_EQ(life.state, LifeState::CameBack);
    EXPECT_EQ(life.known, Distance());
    EXPECT_EQ(life.until, miles(47'000) - miles(40'000));
    EXPECT_TRUE(life.contributes);
}

TEST_F(DerivedLife, EndsWithTheLinkedJobOrTheCallWhicheverIsEarlier) {
    past.jobs.push_back(comeback(2, 1, "2030-09-01", 48'000));
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::NoiseBack, 47'000)};
    EXPECT_EQ(first().until, miles(47'000) - miles(40'000));
    EXPECT_EQ(first().lastKnownOn, day("2030-08-01"));
    past.followUps[0] = heard(1, 1, "2030-10-01", FollowUpOutcome::NoiseBack, 49'000);
    EXPECT_EQ(first().until, miles(48'000) - miles(40'000));
    EXPECT_EQ(first().lastKnownOn, day("2030-09-01"));
    past.followUps[0].odometer =
        miles(47'900); // read wrong by the one or the other: the earlier place counts
    EXPECT_EQ(first().until, miles(47'900) - miles(40'000));
    past.followUps[0].noiseSince = miles(45'000); // told later, noticed earlier
    EXPECT_FALSE(first().until);
    EXPECT_EQ(first().known, miles(45'000) - miles(40'000));
}

TEST_F(DerivedLife, IsEndedByALinkedJobThatIsStillInWork) {
    past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
    ASSERT_FALSE(past.jobs[1].isDelivered());
    EXPECT_EQ(first().state, LifeState::CameBack);
    EXPECT_EQ(first().until, miles(47'000) - miles(40'000));
    EXPECT_EQ(all().size(), 1U) << "the job in work has no life yet";
}

TEST_F(DerivedLife, IsEndedByEveryDecisionThatSaysItDidNotHold) {
    for (const auto decision : {ComebackDecision::SameConcern, ComebackDecision::OtherPart,
                                ComebackDecision::Workmanship, ComebackDecision::WrongDiagnosis}) {
        past.jobs.resize(1);
        past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
        past.jobs[1].comebackDecision = decision;
        EXPECT_EQ(first().state, LifeState::CameBack) << toCode(decision);
    }
}

TEST_F(DerivedLife, IsEndedByALinkUntilSomebodyDecides) {
    past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
    past.jobs[1].comebackDecision = ComebackDecision::None;
    EXPECT_EQ(first().state, LifeState::CameBack);
}

TEST_F(DerivedLife, StaysOpenWhenTheConcernWasNotReproduced) {
    past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
    past.jobs[1].comebackDecision = ComebackDecision::NotReproduced;
    EXPECT_EQ(first().state, LifeState::Holding);
    EXPECT_EQ(first().known, Distance()) << "known quiet does not move";
    EXPECT_GT(first().unseen, Distance());
}

TEST_F(DerivedLife, StaysOpenWhenALinkedReturnForAnotherConcernWasNotReproduced) {
    past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
    past.jobs[1].comebackDecision = ComebackDecision::NotReproduced;
    past.jobs[1].concernGroup = ConcernGroup::ChainNoise;
    EXPECT_EQ(first().known, Distance());
    past.jobs[1].comebackOf = std::nullopt; // a visit for something that this repair was not for
    EXPECT_EQ(first().known, miles(47'000) - miles(40'000));
}

TEST_F(DerivedLife, EndsExactlyWhereItWasQuietAndThenNoisyWithoutRunning) {
    past.followUps = {heard(1, 1, "2030-05-01", FollowUpOutcome::Quiet, 47'000)};
    past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
    EXPECT_EQ(first().known, miles(47'000) - miles(40'000));
    EXPECT_FALSE(first().until);
}

TEST_F(DerivedLife, TakesNothingAsQuietOnTheDayOfTheNoise) {
    past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
    past.jobs.push_back(visit(3, "2030-08-01", 47'000)); // another line of the same repair order
    EXPECT_EQ(first().known, Distance());
    EXPECT_EQ(first().until, miles(47'000) - miles(40'000));
}

TEST_F(DerivedLife, MovesKnownQuietWhenTheReturnWasUnrelated) {
    past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
    past.jobs[1].comebackDecision = ComebackDecision::Unrelated;
    rules.quietVisitCounts = false; // a person looked: this counts all the same
    EXPECT_EQ(first().state, LifeState::Holding);
    EXPECT_EQ(first().known, miles(47'000) - miles(40'000));
}

TEST_F(DerivedLife, TrustsTheDecisionOverTheWordOnThePhoneBefore) {
    past.followUps = {heard(1, 1, "2030-07-01", FollowUpOutcome::NoiseBack, 46'000)};
    past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
    EXPECT_EQ(first().state, LifeState::CameBack);
    past.jobs[1].comebackDecision = ComebackDecision::Unrelated;
    EXPECT_EQ(first().state, LifeState::Holding);
    EXPECT_EQ(first().known, miles(47'000) - miles(40'000));
    past.followUps[0].date = day("2030-08-01"); // told on the day of the decision
    EXPECT_EQ(first().state, LifeState::Holding);
    past.followUps[0].date = day("2030-08-02");
    EXPECT_EQ(first().state, LifeState::CameBack) << "told after the decision";
    past.followUps[0].date = day("2030-07-01");
    past.jobs[1].comebackDecision = ComebackDecision::NotReproduced;
    EXPECT_EQ(first().state, LifeState::Holding);
    past.followUps.push_back(heard(2, 1, "2030-09-01", FollowUpOutcome::NoiseBack, 48'000)); // and again
    EXPECT_EQ(first().state, LifeState::CameBack);
    EXPECT_EQ(first().until, miles(48'000) - miles(40'000));
}

TEST_F(DerivedLife, NeverMakesAnExactEndOfAnEstimate) {
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::NoiseBack, 47'000)};
    past.followUps[0].noiseSince = miles(46'500);
    past.followUps[0].odometerEstimated = true;
    EXPECT_EQ(first().state, LifeState::CameBack);
    EXPECT_EQ(first().known, Distance());
    EXPECT_EQ(first().until, miles(47'000) - miles(40'000));
}

TEST_F(DerivedLife, IsKnownQuietNoFurtherThanAnOdometerThatWasRead) {
    // A call without an odometer is news, but nobody knows of how many miles: they stay unseen, from the
    // repair on.
    const Life before = first();
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::Quiet)};
    EXPECT_EQ(first().known, before.known);
    EXPECT_EQ(first().unseen, before.unseen);
    EXPECT_EQ(first().lastKnownOn, before.lastKnownOn);
    EXPECT_EQ(first().state, LifeState::Holding);
    // The book's own estimate, flagged as one, moves no more.
    past.followUps[0].odometer = miles(47'000);
    past.followUps[0].odometerEstimated = true;
    EXPECT_EQ(first().known, before.known);
    EXPECT_EQ(first().unseen, before.unseen);
    // Read or told, it does.
    past.followUps[0].odometerEstimated = false;
    EXPECT_EQ(first().known, miles(47'000) - miles(40'000));
    EXPECT_EQ(first().lastKnownOn, day("2030-08-01"));
    EXPECT_LT(first().unseen, before.unseen);
}

TEST_F(DerivedLife, IsKnownQuietUpToTheLastReadingBeforeAQuietWordWithoutOne) {
    past.odometers = {reading(1, "2030-05-01", 43'000)};
    const Life unheard = first();
    EXPECT_EQ(unheard.known, Distance()) << "a reading alone says nothing of the noise";
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::Quiet)};
    EXPECT_EQ(first().known, miles(43'000) - miles(40'000))
        << "it was quiet later, and had run at least so far";
    EXPECT_EQ(first().lastKnownOn, day("2030-05-01")) << "what was run since stays unseen";
    EXPECT_GT(first().unseen, Distance());
}

TEST_F(DerivedLife, IsNotLostWhereSomebodySaidQuietWithoutAnOdometer) {
    rules.lostAfterMonths = 6;
    ASSERT_EQ(first().state, LifeState::LostSight);
    const Date recent = addDays(today, -30);
    past.followUps = {heard(1, 1, toIso(recent).c_str(), FollowUpOutcome::Quiet)};
    EXPECT_EQ(first().state, LifeState::Holding);
}

TEST_F(DerivedLife, EndsByTheNextReadingWhenNobodyKnewTheOdometer) {
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::NoiseBack)};
    past.jobs.push_back(comeback(2, 1, "2030-08-20", 47'600));
    EXPECT_EQ(first().until, miles(47'600) - miles(40'000));
    past.jobs.pop_back();
    // 203 days at the shop's 12,000 miles a year
    EXPECT_EQ(first().until, Distance::fromMetres(std::llround(203 / 365.25 * 12'000 * 1609.344)));
}

TEST_F(DerivedLife, PutsANoiseWithoutAnOdometerBehindTheQuietOfItsDay) {
    past.followUps = {heard(1, 1, "2030-08-01", FollowUpOutcome::Quiet, 47'000),
                      heard(2, 1, "2030-08-01", FollowUpOutcome::NoiseBack)};
    EXPECT_EQ(first().state, LifeState::CameBack);
    EXPECT_EQ(first().until, miles(47'000) - miles(40'000) + Distance::fromMetres(1));
}

TEST_F(DerivedLife, TakesTheWordOfTheDayOfDelivery) {
    past.followUps = {heard(1, 1, "2030-01-10", FollowUpOutcome::Quiet, 40'050)};
    EXPECT_EQ(first().known, miles(40'050) - miles(40'000));
    past.followUps[0].date = day("2030-01-09");
    EXPECT_EQ(first().known, Distance()) << "said before there was anything to hear";
}

TEST_F(DerivedLife, KeepsTheLastQuietBelowTheNoise) {
    past.followUps = {
        heard(1, 1, "2030-05-01", FollowUpOutcome::Quiet, 49'000), // a slip: more than was read later
        heard(2, 1, "2030-04-01", FollowUpOutcome::Quiet, 43'000),
        heard(3, 1, "2030-08-01", FollowUpOutcome::NoiseBack, 47'000)};
    EXPECT_EQ(first().known, miles(43'000) - miles(40'000));
    EXPECT_EQ(first().until, miles(47'000) - miles(40'000));
}

TEST_F(DerivedLife, IgnoresQuietAfterTheComeback) {
    past.jobs.push_back(comeback(2, 1, "2030-08-01", 47'000));
    past.followUps = {heard(1, 1, "2030-10-01", FollowUpOutcome::Quiet, 46'000)};
    EXPECT_EQ(first().known, Distance());
    EXPECT_EQ(first().until, miles(47'000) - miles(40'000));
}

TEST_F(DerivedLife, ThatCameBackWithoutRunningNeverHeld) {
    past.jobs.push_back(comeback(2, 1, "2030-01-10", 40'000));
    EXPECT_EQ(first().state, LifeState::NeverHeld);
    EXPECT_EQ(first().known, Distance());
    EXPECT_FALSE(first().until);
}

} // namespace
} // namespace milehold::core
