// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/follow_up_store.h"
#include "tests/storage/support/shop_fixture.h"

namespace milehold::test {

using core::Distance;
using core::ErrorCode;
using core::FollowUpOutcome;

class FollowUpStore : public EngineTest {
protected:
    core::FollowUp call(core::JobId job, FollowUpOutcome outcome) const {
        core::FollowUp made;
        made.job = job;
        made.date = day(2031, 4, 25);
        made.outcome = outcome;
        return made;
    }
    std::int64_t readings() { return rowsIn("odometer"); }
};

ON_BOTH_ENGINES(FollowUpStore);

TEST_P(FollowUpStore, DoNotCallMarksTheCustomerInTheSameSave) {
    const core::Job job = saved(finishedJob());
    ASSERT_OK(shop().followUps().save(call(job.id, FollowUpOutcome::DoNotCall)));
    EXPECT_TRUE(shop().customers().find(customer.id)->doNotCall);
    EXPECT_TRUE(shop().vehicles().history(vehicle.id)->doNotCall);
    EXPECT_EQ(shop().changeLog().of("customer", customer.id.uuid)->size(), 2U);
}

TEST_P(FollowUpStore, KeepsAReadingOfAToldOdometerAndNoneOfAnEstimate) {
    const core::Job job = saved(finishedJob());
    core::FollowUp quiet = call(job.id, FollowUpOutcome::Quiet);
    quiet.odometer = Distance::miles(50'700);
    auto stored = shop().followUps().save(quiet);
    ASSERT_OK(stored);
    EXPECT_EQ(readings(), 3);
    stored->odometerEstimated = true;
    stored = shop().followUps().save(*stored);
    ASSERT_OK(stored);
    EXPECT_EQ(readings(), 2);
    stored->odometerEstimated = false;
    stored = shop().followUps().save(*stored);
    ASSERT_OK(stored);
    EXPECT_EQ(readings(), 3);
    ASSERT_OK(shop().followUps().remove(stored->id, stored->revision));
    EXPECT_EQ(readings(), 2);
    EXPECT_TRUE(shop().followUps().ofJob(job.id)->empty());
}

TEST_P(FollowUpStore, AVoidedAnswerStaysWithItsReasonAndCountsNowhere) {
    const core::Job job = saved(finishedJob());
    const auto before = shop().lives().records(day(2031, 5, 1));
    core::FollowUp quiet = call(job.id, FollowUpOutcome::Quiet);
    quiet.odometer = Distance::miles(50'700);
    const auto stored = shop().followUps().save(quiet);
    ASSERT_OK(stored);
    EXPECT_NE(shop().lives().records(day(2031, 5, 1)).value()[0].life.known, before.value()[0].life.known);
    EXPECT_FAILS(shop().followUps().voidCall(stored->id, stored->revision, " "), ErrorCode::InvalidInput);
    EXPECT_FAILS(shop().followUps().voidCall(stored->id, stored->revision + 1, "why"), ErrorCode::Conflict);
    EXPECT_FAILS(shop().followUps().voidCall({}, 1, "why"), ErrorCode::NotFound);
    const auto voided = shop().followUps().voidCall(stored->id, stored->revision, "The wrong customer");
    ASSERT_OK(voided);
    EXPECT_EQ(readings(), 2) << "its reading went along";
    EXPECT_HOLDS(shop().followUps().ofJob(job.id), std::vector{*voided});
    EXPECT_EQ(voided->voidReason, "The wrong customer");
    EXPECT_EQ(voided->odometer, quiet.odometer) << "what was typed stays";
    EXPECT_HOLDS(shop().lives().records(day(2031, 5, 1)), before.value());
    EXPECT_EQ(shop().changeLog().of("follow_up", stored->id.uuid)->size(), 2U);
    core::FollowUp again = *voided; // it counts again
    again.voidReason.clear();
    ASSERT_OK(shop().followUps().save(again));
    EXPECT_EQ(readings(), 3);
}

TEST_P(FollowUpStore, CallsOnTheDayThatWasPromisedUnlessSomethingElseWasTold) {
    customer.phones = {"555 0142"};
    customer = shop().customers().save(customer).value();
    const core::Job job = saved(finishedJob());
    const auto factsOn = [&](core::Date today) { return shop().followUps().callFacts(today).value(); };
    core::FollowUp later = call(job.id, FollowUpOutcome::CallLater);
    later.callOn = day(2031, 7, 1);
    auto told = shop().followUps().save(later);
    ASSERT_OK(told);
    EXPECT_TRUE(factsOn(day(2031, 6, 30)).empty());
    ASSERT_EQ(factsOn(day(2031, 7, 1)).size(), 1U);
    EXPECT_EQ(factsOn(day(2031, 7, 1))[0].promisedOn, later.callOn);
    // Nobody picked up on the day: it stays promised.
    core::FollowUp silent = call(job.id, FollowUpOutcome::NoAnswer);
    silent.date = day(2031, 7, 1);
    auto missed = shop().followUps().save(silent);
    ASSERT_OK(missed);
    EXPECT_TRUE(factsOn(day(2031, 7, 1)).empty());
    EXPECT_EQ(factsOn(day(2031, 7, 2))[0].promisedOn, later.callOn);
    EXPECT_EQ(factsOn(day(2031, 7, 2))[0].unanswered, 1);
    ASSERT_OK(shop().followUps().voidCall(missed->id, missed->revision, "misdialled"));
    EXPECT_EQ(factsOn(day(2031, 7, 2))[0].unanswered, 0);
    // An answer overtakes the promise, on the same day too.
    const auto quiet = shop().followUps().save(call(job.id, FollowUpOutcome::Quiet));
    ASSERT_OK(quiet);
    EXPECT_FALSE(factsOn(day(2031, 5, 25)).empty())
        << "thirty days after the answer, before the promised day";
    EXPECT_FALSE(factsOn(day(2031, 7, 2))[0].promisedOn);
    ASSERT_OK(shop().followUps().voidCall(quiet->id, quiet->revision, "another job"));
    EXPECT_TRUE(factsOn(day(2031, 5, 25)).empty());
    ASSERT_OK(shop().followUps().voidCall(told->id, told->revision, "another job"));
    EXPECT_EQ(factsOn(day(2031, 4, 25)).size(), 1U);
}

TEST_P(FollowUpStore, AVoidedDoNotCallMarksNobody) {
    const core::Job job = saved(finishedJob());
    core::FollowUp told = call(job.id, FollowUpOutcome::DoNotCall);
    told.voidReason = "imported as void";
    ASSERT_OK(shop().followUps().save(told));
    EXPECT_FALSE(shop().customers().find(customer.id)->doNotCall);
}

TEST_P(FollowUpStore, RefusesACallAboutNoJob) {
    EXPECT_FAILS(shop().followUps().save(call({}, FollowUpOutcome::Quiet)), ErrorCode::NotFound);
}

TEST_P(FollowUpStore, MovesTheLifeOfItsJob) {
    const core::Job job = saved(finishedJob());
    core::FollowUp quiet = call(job.id, FollowUpOutcome::Quiet);
    quiet.odometer = Distance::miles(50'704);
    ASSERT_OK(shop().followUps().save(quiet));
    const auto lives = shop().lives().records(day(2031, 5, 1));
    ASSERT_OK(lives);
    ASSERT_EQ(lives->size(), 1U);
    const auto& record = lives->front();
    EXPECT_EQ(record.life.known, Distance::miles(50'704) - *job.odometerOut);
    EXPECT_EQ(record.life.state, core::LifeState::Holding);
    EXPECT_EQ(record.jobNumber, job.number);
    EXPECT_EQ(record.family, family.id);
    EXPECT_EQ(record.technician, technician.id);
    EXPECT_EQ(record.parts, std::vector{part.id});
    EXPECT_EQ(record.lots, (std::vector{core::FittedLot{part.id, job.parts[0].lot}}));
    EXPECT_EQ(record.vehicleLabel, "1989 Hollin Tallow");
    EXPECT_HOLDS(shop().lives().recordsOf(vehicle.id, day(2031, 5, 1)), *lives);
}

TEST_P(FollowUpStore, LeavesWhoWasCalledInPeaceForAWhile) {
    customer.phones = {"555 0142"};
    customer = shop().customers().save(customer).value();
    const core::Job job = saved(finishedJob());
    const auto mayBeCalled = [&](int days) {
        const auto facts = shop().followUps().callFacts(core::addDays(day(2031, 4, 25), days));
        EXPECT_OK(facts);
        return facts && !facts->empty();
    };
    const auto tell = [&](FollowUpOutcome outcome) {
        const auto stored = shop().followUps().save(call(job.id, outcome));
        EXPECT_OK(stored);
        return stored.value();
    };
    EXPECT_TRUE(mayBeCalled(0));
    auto told = tell(FollowUpOutcome::NoAnswer);
    EXPECT_FALSE(mayBeCalled(0));
    EXPECT_TRUE(mayBeCalled(1));
    ASSERT_OK(shop().followUps().remove(told.id, told.revision));
    told = tell(FollowUpOutcome::CallLater);
    EXPECT_FALSE(mayBeCalled(6));
    EXPECT_TRUE(mayBeCalled(7)) << "back in a week";
    ASSERT_OK(shop().followUps().remove(told.id, told.revision));
    tell(FollowUpOutcome::Quiet); // without an odometer: it moved no known distance
    EXPECT_FALSE(mayBeCalled(29));
    EXPECT_TRUE(mayBeCalled(30));
}

} // namespace milehold::test
