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
    EXPECT_EQ(record.vehicleLabel, "Hollin Tallow 1989");
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
