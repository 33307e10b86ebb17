// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/validation.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using namespace testing_support;

// Rules of a shop's book: common practice, no published source.
class CallRules : public ::testing::Test {
protected:
    CallRules() { past.jobs = {repair(1, "2030-01-10", 40'000)}; }
    std::optional<Severity> worst(const FollowUp& told, const char* field) const {
        return worstIn(validate(told, past), field);
    }

    VehicleHistory past = history();
};

TEST_F(CallRules, PassAnAnswerThatIsComplete) {
    EXPECT_TRUE(validate(heard(1, 1, "2031-01-10", FollowUpOutcome::Quiet, 52'000), past).empty());
    EXPECT_TRUE(validate(heard(1, 1, "2031-01-10", FollowUpOutcome::NoAnswer), past).empty());
}

TEST_F(CallRules, WantADeliveredRepairOfThisVehicle) {
    EXPECT_EQ(worst(heard(1, 7, "2031-01-10", FollowUpOutcome::Quiet, 52'000), "job"), Severity::Error);
    past.jobs[0].delivered = std::nullopt;
    EXPECT_EQ(worst(heard(1, 1, "2031-01-10", FollowUpOutcome::Quiet, 52'000), "job"), Severity::Error);
    past.jobs[0] = repair(1, "2030-01-10", 40'000);
    past.jobs[0].voidReason = "typed twice";
    EXPECT_EQ(worst(heard(1, 1, "2031-01-10", FollowUpOutcome::Quiet, 52'000), "job"), Severity::Error);
    past.jobs[0] = visit(1, "2030-01-10", 40'000);
    past.jobs[0].delivered = day("2030-01-10");
    EXPECT_EQ(worst(heard(1, 1, "2031-01-10", FollowUpOutcome::Quiet, 52'000), "job"), Severity::Error);
}

TEST_F(CallRules, WantTheCallAfterTheDelivery) {
    EXPECT_EQ(worst(heard(1, 1, "2030-01-09", FollowUpOutcome::NoAnswer), "date"), Severity::Error);
    FollowUp told = heard(1, 1, "2030-01-10", FollowUpOutcome::NoAnswer);
    EXPECT_FALSE(worst(told, "date"));
    told.date = Date{};
    EXPECT_EQ(worst(told, "date"), Severity::Error);
}

TEST_F(CallRules, AskAgainWhenTheOdometerFallsOrJumps) {
    EXPECT_EQ(worst(heard(1, 1, "2031-01-10", FollowUpOutcome::Quiet, 39'000), "odometer"),
              Severity::Warning);
    EXPECT_EQ(worst(heard(1, 1, "2030-01-14", FollowUpOutcome::Quiet, 41'001), "odometer"),
              Severity::Warning);
    EXPECT_FALSE(worst(heard(1, 1, "2030-01-14", FollowUpOutcome::Quiet, 41'000), "odometer"));
    EXPECT_EQ(worst(heard(1, 1, "2031-01-10", FollowUpOutcome::Quiet, -1), "odometer"), Severity::Error);
}

TEST_F(CallRules, WantTheNoiseWithinTheRepairsLife) {
    FollowUp told = heard(1, 1, "2031-01-10", FollowUpOutcome::NoiseBack, 52'000);
    told.noiseSince = miles(50'000);
    EXPECT_TRUE(validate(told, past).empty());
    told.noiseSince = miles(52'001);
    EXPECT_EQ(worst(told, "noiseSince"), Severity::Error);
    told.noiseSince = miles(39'999);
    EXPECT_EQ(worst(told, "noiseSince"), Severity::Error);
    told.noiseSince = miles(50'000);
    told.outcome = FollowUpOutcome::Quiet;
    EXPECT_EQ(worst(told, "noiseSince"), Severity::Error);
}

TEST_F(CallRules, AskForARoughFigureWhenNoOdometerWasTold) {
    EXPECT_EQ(worst(heard(1, 1, "2031-01-10", FollowUpOutcome::Quiet), "odometer"), Severity::Warning);
    EXPECT_EQ(worst(heard(1, 1, "2031-01-10", FollowUpOutcome::NoiseBack), "odometer"), Severity::Warning);
    EXPECT_FALSE(worst(heard(1, 1, "2031-01-10", FollowUpOutcome::Sold), "odometer"));
}

TEST_F(CallRules, WantTheDayOfACallLaterToLieAhead) {
    FollowUp told = heard(1, 1, "2031-01-10", FollowUpOutcome::CallLater);
    EXPECT_TRUE(validate(told, past).empty());
    told.callOn = day("2031-01-11");
    EXPECT_TRUE(validate(told, past).empty());
    told.callOn = day("2033-01-11");
    EXPECT_EQ(worst(told, "callOn"), Severity::Warning);
    for (const Date& wrong : {day("2031-01-10"), day("2031-01-09"), Date{}}) {
        told.callOn = wrong;
        EXPECT_EQ(worst(told, "callOn"), Severity::Error);
    }
    told.callOn = day("2031-02-10");
    told.outcome = FollowUpOutcome::NoAnswer;
    EXPECT_EQ(worst(told, "callOn"), Severity::Error);
}

TEST_F(CallRules, LetAnAnswerBeVoidedWhateverIsWrongWithItButNotWithoutAReason) {
    FollowUp told = heard(1, 7, "2029-01-10", FollowUpOutcome::Quiet, -1); // of no job, before any delivery
    told.voidReason = "the wrong customer";
    EXPECT_TRUE(validate(told, past).empty());
    told.voidReason = "  ";
    EXPECT_EQ(worst(told, "voidReason"), Severity::Error);
}

TEST_F(CallRules, PassOverWhatAVoidedAnswerSaysOfTheOdometer) {
    past.followUps = {heard(2, 1, "2030-12-10", FollowUpOutcome::Quiet, 91'000)};
    EXPECT_EQ(worst(heard(1, 1, "2031-01-10", FollowUpOutcome::Quiet, 52'000), "odometer"),
              Severity::Warning);
    past.followUps[0].voidReason = "another vehicle";
    EXPECT_TRUE(validate(heard(1, 1, "2031-01-10", FollowUpOutcome::Quiet, 52'000), past).empty());
}

TEST_F(CallRules, PassOverTheStoredVersionOfTheSameCall) {
    past.followUps = {heard(1, 1, "2031-01-10", FollowUpOutcome::Quiet, 520'000)}; // a slip, now corrected
    EXPECT_TRUE(validate(heard(1, 1, "2031-01-10", FollowUpOutcome::Quiet, 52'000), past).empty());
}

TEST_F(CallRules, CountAReplacedInstrumentIn) {
    past.odometers = {reading(1, "2030-06-01", 0)};
    past.odometers[0].resetOffset = miles(45'000);
    FollowUp told = heard(1, 1, "2031-01-10", FollowUpOutcome::NoiseBack, 7'000);
    told.noiseSince = miles(5'000); // really 50,000
    EXPECT_TRUE(validate(told, past).empty());
}

class ReadingRules : public CallRules {
protected:
    std::optional<Severity> worst(const OdometerReading& taken, const char* field) const {
        return worstIn(validate(taken, past), field);
    }
};

TEST_F(ReadingRules, RefuseAFallWithTimeAndANegativeOne) {
    EXPECT_TRUE(validate(reading(1, "2031-01-10", 52'000), past).empty());
    EXPECT_EQ(worst(reading(1, "2031-01-10", 39'000), "shown"), Severity::Error);
    EXPECT_EQ(worst(reading(1, "2029-01-10", 41'000), "shown"), Severity::Error);
    EXPECT_EQ(worst(reading(1, "2029-01-10", -1), "shown"), Severity::Error);
}

TEST_F(ReadingRules, TakeAReplacementThatSaysHowFarTheVehicleHadRun) {
    OdometerReading replaced = reading(1, "2031-01-10", 12);
    EXPECT_EQ(worst(replaced, "shown"), Severity::Error);
    replaced.resetOffset = miles(52'000);
    EXPECT_TRUE(validate(replaced, past).empty());
    replaced.resetOffset = miles(30'000); // less than the vehicle had run by then
    EXPECT_EQ(worst(replaced, "resetOffset"), Severity::Error);
    replaced.resetOffset = miles(-13);
    EXPECT_EQ(worst(replaced, "resetOffset"), Severity::Error);
}

TEST_F(ReadingRules, ReadLaterReadingsByTheNewReplacement) {
    past.odometers = {reading(2, "2031-06-10", 3'000)}; // taken from the new instrument
    OdometerReading replaced = reading(1, "2031-01-10", 12);
    replaced.resetOffset = miles(52'000);
    EXPECT_TRUE(validate(replaced, past).empty());
}

TEST_F(ReadingRules, WantADateAndTheVehicleOfTheHistory) {
    OdometerReading taken = reading(1, "2031-01-10", 52'000);
    taken.vehicle = key<VehicleId>(2);
    EXPECT_EQ(worst(taken, "vehicle"), Severity::Error);
    taken.date = Date{};
    EXPECT_EQ(worst(taken, "date"), Severity::Error);
}

} // namespace
} // namespace milehold::core
