// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/ui/support/random_job.h"
#include "ui/bay/merge_edits.h"

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

TEST(MergeEdits, GivesTheBaseBackWhenNothingWasEdited) {
    test::RandomJobs random(7);
    for (int i = 0; i < 200; ++i) {
        const core::Job base = random.job();
        const core::Job shown = random.job();
        EXPECT_EQ(mergeEdits(base, shown, shown), base);
    }
}

TEST(MergeEdits, TakesEveryMemberThatWasEdited) {
    // Two jobs that differ in every member: the merge must be the edited one, whichever member is looked at.
    const core::Job shown = test::jobWithEverything(1);
    const core::Job now = test::jobWithEverything(2);
    EXPECT_EQ(mergeEdits(core::Job{}, shown, now), now);
    const core::Vehicle shownVehicle = test::vehicleWithEverything(1);
    const core::Vehicle vehicle = test::vehicleWithEverything(2);
    EXPECT_EQ(mergeEdits(core::Vehicle{}, shownVehicle, vehicle), vehicle);
    const core::Customer shownCustomer = test::customerWithEverything(1);
    const core::Customer customer = test::customerWithEverything(2);
    EXPECT_EQ(mergeEdits(core::Customer{}, shownCustomer, customer), customer);
}

TEST(MergeEdits, LeavesWhatSomebodyElseChangedWhereThisFormDidNot) {
    core::Job theirs = test::jobWithEverything(3);
    const core::Job read = test::jobWithEverything(1);
    core::Job mine = read;
    mine.cause = "worn lock pin";
    theirs.cause = "not yet known";
    const core::Job merged = mergeEdits(theirs, read, mine);
    EXPECT_EQ(merged.cause, "worn lock pin");
    EXPECT_EQ(merged.correction, theirs.correction);
    EXPECT_EQ(merged.odometerOut, theirs.odometerOut);
}

} // namespace
} // namespace milehold::ui
