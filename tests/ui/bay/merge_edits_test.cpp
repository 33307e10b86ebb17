// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/random_job.h"
#include "ui/bay/merge_edits.h"

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

TEST(MergeEdits, GivesTheBaseBackWhenNothingWasEdited) {
    tests::RandomJobs random(7);
    for (int i = 0; i < 200; ++i) {
        const core::Job base = random.job();
        const core::Job shown = random.job();
        EXPECT_EQ(mergeEdits(base, shown, shown), base);
    }
}

TEST(MergeEdits, TakesEveryMemberThatWasEdited) {
    // Two jobs that differ in every member: the merge must be the edited one, whichever member is looked at.
    const core::Job shown = tests::jobWithEverything(1);
    const core::Job now = tests::jobWithEverything(2);
    EXPECT_EQ(mergeEdits(core::Job{}, shown, now), now);
    const core::Vehicle shownVehicle = tests::vehicleWithEverything(1);
    const core::Vehicle vehicle = tests::vehicleWithEverything(2);
    EXPECT_EQ(mergeEdits(core::Vehicle{}, shownVehicle, vehicle), vehicle);
    const core::Customer shownCustomer = tests::customerWithEverything(1);
    const core::Customer customer = tests::customerWithEverything(2);
    EXPECT_EQ(mergeEdits(core::Customer{}, shownCustomer, customer), customer);
}

TEST(MergeEdits, LeavesWhatSomebodyElseChangedWhereThisFormDidNot) {
    core::Job theirs = tests::jobWithEverything(3);
    const core::Job read = tests::jobWithEverything(1);
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
