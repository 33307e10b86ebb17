// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/claim_store.h"
#include "storage/fitted_phasers.h"
#include "storage/recent_calls.h"
#include "tests/storage/support/shop_fixture.h"

namespace milehold::test {

using core::ClaimState;

class ClaimStore : public EngineTest {
protected:
    core::Job claim(int dayOfApril, ClaimState state, std::optional<core::Date> deadline) {
        core::Job job =
            finishedJob(day(2031, 4, static_cast<unsigned>(dayOfApril)), 50'000 + 100 * dayOfApril);
        job.claimState = state;
        job.claimDeadline = deadline;
        return saved(job);
    }
};

ON_BOTH_ENGINES(ClaimStore);

TEST_P(ClaimStore, ListsEveryClaimByDeadlineAndCountsThoseThatMustBeFiled) {
    storage::ClaimStore claims(shop());
    EXPECT_TRUE(claims.all()->empty());
    const auto late = claim(1, ClaimState::ToFile, day(2031, 6, 15));
    const auto soon = claim(2, ClaimState::ToFile, day(2031, 5, 20));
    const auto filed = claim(3, ClaimState::Filed, day(2031, 5, 1));
    const auto open = claim(4, ClaimState::ToFile, std::nullopt);
    claim(5, ClaimState::None, std::nullopt);
    const auto gone = claim(6, ClaimState::ToFile, day(2031, 5, 2));
    ASSERT_OK(shop().jobs().voidJob(gone.id, gone.revision, "typed twice"));
    EXPECT_HOLDS(claims.all(), (std::vector{filed, soon, late, open}));
    EXPECT_HOLDS(claims.dueBy(day(2031, 5, 19)), 0);
    EXPECT_HOLDS(claims.dueBy(day(2031, 5, 20)), 1);
    EXPECT_HOLDS(claims.dueBy(day(2031, 6, 15)), 2);
}

TEST_P(ClaimStore, RecentCallsComeNewestFirstWithTheVoidedOnes) {
    const core::Job job = saved(finishedJob());
    std::vector<core::FollowUp> logged;
    for (unsigned i = 0; i < 4; ++i) {
        core::FollowUp call;
        call.job = job.id;
        call.date = day(2031, 4, i < 2 ? 20 : 21);
        call.outcome = core::FollowUpOutcome::NoAnswer;
        call.note = std::to_string(i);
        logged.push_back(*shop().followUps().save(call));
    }
    logged[3] = *shop().followUps().voidCall(logged[3].id, logged[3].revision, "misdialled");
    EXPECT_HOLDS(storage::recentCalls(shop(), 3), (std::vector{logged[3], logged[2], logged[1]}));
}

TEST_P(ClaimStore, FittedPhasersAreThoseOfTheJobAndNotOfItsPath) {
    core::PartNumber valve = part;
    valve.id = {};
    valve.revision = 0;
    valve.number = "OV-1";
    valve.component = core::Component::OilControlValve;
    valve = *shop().shelf().save(valve);
    const core::Position first{1, core::CamRole::Intake};
    const core::Position second{2, core::CamRole::Exhaust};
    std::vector<core::JobId> ids;
    for (int i = 0; i < 60; ++i) { // more than one question
        core::Job job = finishedJob(day(2031, 4, 1), 50'000 + i);
        job.parts = {{part.id, i % 2 == 0 ? first : second, "", 1, {}}, {valve.id, second, "", 1, {}}};
        if (i == 7)
            job.parts = {{valve.id, first, "", 1, {}}};
        if (i == 8)
            job.parts = {{part.id, std::nullopt, "", 1, {}}};
        ids.push_back(saved(job).id);
    }
    const auto fitted = storage::fittedPhasers(shop(), ids);
    ASSERT_OK(fitted);
    EXPECT_EQ(fitted->size(), 58U);
    EXPECT_FALSE(fitted->contains(ids[7]) || fitted->contains(ids[8]));
    EXPECT_EQ(fitted->at(ids[0]), std::vector{first});
    EXPECT_EQ(fitted->at(ids[59]), std::vector{second});
    EXPECT_TRUE(storage::fittedPhasers(shop(), {})->empty());
}

} // namespace milehold::test
