// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/on_the_road.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using namespace testing_support;

LifeRecord lifeOn(const char* repairedOn, LifeState state, bool contributes = true) {
    LifeRecord record;
    record.life.repairedOn = day(repairedOn);
    record.life.state = state;
    record.life.contributes = contributes;
    return record;
}

TEST(OnTheRoad, TakesTheNewestRepairThatHolds) {
    const std::vector<LifeRecord> lives = {
        lifeOn("2030-01-10", LifeState::Holding), lifeOn("2031-02-10", LifeState::LostSight),
        lifeOn("2031-03-10", LifeState::CameBack), lifeOn("2031-04-01", LifeState::Holding, false)};
    EXPECT_EQ(runningLife(lives), &lives[1]);
    EXPECT_EQ(runningLife(std::span(lives).subspan(2)), nullptr);
    EXPECT_EQ(runningLife({}), nullptr);
}

TEST(OnTheRoad, ReadsTheNewestCalibrationThatAnyJobWroteDown) {
    VehicleHistory history;
    EXPECT_EQ(calibrationNow(history), "");
    Job first = repair(1, "2030-01-10", 40'000);
    first.calibrationBefore = "N4K-0101A";
    first.calibrationAfter = "N4K-0102B";
    Job visit = repair(2, "2031-03-10", 60'000);
    visit.calibrationBefore = "N4K-0103C"; // read only
    Job voided = repair(3, "2031-04-10", 61'000);
    voided.calibrationAfter = "N4K-0999Z";
    voided.voidReason = "typed twice";
    history.jobs = {visit, first, voided};
    EXPECT_EQ(calibrationNow(history), "N4K-0103C");
    history.jobs = {first};
    EXPECT_EQ(calibrationNow(history), "N4K-0102B") << "after the work where both were read";
}

} // namespace
} // namespace milehold::core
