// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/comeback.h"
#include "core/shop/validation.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

#include <string>

namespace milehold::core {
namespace {

using namespace testing_support;

// Rules of a shop's book: common practice, no published source.
class JobRules : public ::testing::Test {
protected:
    std::optional<Severity> worst(const char* field) const {
        return worstIn(validate(job, s.shelf, past), field);
    }

    SmallShelf s;
    VehicleHistory past = history();
    Job job = repair(9, "2031-04-09", 48'200);
};

TEST_F(JobRules, PassAJobThatIsComplete) {
    EXPECT_TRUE(validate(job, s.shelf, past).empty());
}

TEST_F(JobRules, LetAHalfFilledJobBeSavedWhileItIsInWork) {
    Job open;
    open.vehicle = past.vehicle.id;
    open.writtenUp = day("2031-04-09");
    EXPECT_FALSE(hasErrors(validate(open, s.shelf, past)));
}

TEST_F(JobRules, WantPathTechnicianAndBothOdometersAtDelivery) {
    job.path = std::nullopt;
    job.technician = std::nullopt;
    job.odometerIn = std::nullopt;
    job.odometerOut = std::nullopt;
    for (const char* field : {"path", "technician", "odometerIn", "odometerOut"})
        EXPECT_EQ(worst(field), Severity::Error) << field;
}

TEST_F(JobRules, WantOutNotLessThanInAndInNotNegative) {
    job.odometerOut = miles(48'199);
    EXPECT_EQ(worst("odometerOut"), Severity::Error);
    job.odometerOut = miles(48'201);
    EXPECT_FALSE(worst("odometerOut"));
    job.odometerIn = miles(-1);
    EXPECT_EQ(worst("odometerIn"), Severity::Error);
    job.odometerIn = miles(100);
    EXPECT_EQ(worst("odometerOut"), Severity::Warning) << "48,101 miles inside the shop";
}

TEST_F(JobRules, WantTheDatesInOrder) {
    job.started = day("2031-04-08");
    EXPECT_EQ(worst("started"), Severity::Error);
    job.started = day("2031-04-09");
    job.delivered = day("2031-04-08");
    EXPECT_EQ(worst("delivered"), Severity::Error);
    job.delivered = day("2031-04-10");
    job.started = day("2031-04-11");
    EXPECT_EQ(worst("delivered"), Severity::Error);
    job.started = std::nullopt;
    EXPECT_FALSE(worst("delivered"));
    job.writtenUp = Date{};
    EXPECT_EQ(worst("writtenUp"), Severity::Error);
}

TEST_F(JobRules, WarnOfADeliveryWithoutAColdStart) {
    job.deliveryCheck = DeliveryCheck::NotDone;
    EXPECT_EQ(worst("deliveryCheck"), Severity::Warning);
}

TEST_F(JobRules, RefuseACheckThatContradictsItsSeconds) {
    job.after.rattleTenths = 12;
    EXPECT_EQ(worst("deliveryCheck"), Severity::Error);
    job.deliveryCheck = DeliveryCheck::Noisy;
    EXPECT_FALSE(worst("deliveryCheck"));
    job.after.rattleTenths = 0;
    EXPECT_EQ(worst("deliveryCheck"), Severity::Error);
}

TEST_F(JobRules, RefuseAFallOfTheOdometer) {
    past.odometers = {reading(1, "2031-01-01", 50'000)};
    EXPECT_EQ(worst("odometerIn"), Severity::Error);
    past.odometers = {reading(1, "2031-06-01", 48'000)}; // later, and less
    EXPECT_EQ(worst("odometerIn"), Severity::Error);
    past.odometers = {reading(1, "2031-01-01", 48'000)};
    EXPECT_FALSE(worst("odometerIn"));
}

TEST_F(JobRules, OnlyWarnOfAFallAgainstWhatWasToldOnThePhone) {
    past.jobs = {repair(1, "2030-01-01", 30'000)};
    past.followUps = {heard(1, 1, "2031-01-01", FollowUpOutcome::Quiet, 49'000)};
    EXPECT_EQ(worst("odometerIn"), Severity::Warning);
}

TEST_F(JobRules, TakeAFallThatAnInstrumentReplacementExplains) {
    past.odometers = {reading(1, "2031-01-01", 90'000), reading(2, "2031-02-01", 10)};
    past.odometers[1].resetOffset = miles(91'000);
    job.odometerIn = job.odometerOut = miles(2'000); // really 93,000
    EXPECT_FALSE(worst("odometerIn"));
    EXPECT_FALSE(worst("odometerOut"));
    past.odometers[1].resetOffset = std::nullopt;
    EXPECT_EQ(worst("odometerIn"), Severity::Error);
}

TEST_F(JobRules, TakeAReplacementMadeDuringTheJob) {
    job.delivered = day("2031-04-11");
    past.odometers = {reading(1, "2031-04-10", 0)};
    past.odometers[0].resetOffset = miles(48'200);
    job.odometerOut = miles(3);
    EXPECT_FALSE(hasErrors(validate(job, s.shelf, past)));
    past.odometers[0].date = day("2031-04-11"); // on the very day of delivery
    EXPECT_FALSE(hasErrors(validate(job, s.shelf, past)));
}

TEST_F(JobRules, AskAgainAboveTwoHundredAndFiftyMilesADay) {
    past.odometers = {reading(1, "2031-04-05", 47'200)}; // exactly 250 a day for 4 days
    EXPECT_FALSE(worst("odometerIn"));
    past.odometers = {reading(1, "2031-04-05", 47'199)};
    EXPECT_EQ(worst("odometerIn"), Severity::Warning);
    past.odometers = {reading(1, "2031-04-10", 48'451)}; // the next day
    EXPECT_EQ(worst("odometerIn"), Severity::Warning);
}

TEST_F(JobRules, DoNotMeasureMilesADayFromAnEstimate) {
    past.jobs = {repair(1, "2030-01-01", 30'000)};
    past.followUps = {heard(1, 1, "2031-04-08", FollowUpOutcome::Quiet, 40'000)}; // 8,200 in a day
    EXPECT_EQ(worst("odometerIn"), Severity::Warning);
    past.followUps[0].odometerEstimated = true;
    EXPECT_FALSE(worst("odometerIn"));
}

TEST_F(JobRules, PassOverTheStoredVersionOfTheSameJob) {
    past.jobs = {job};
    past.jobs[0].odometerIn = past.jobs[0].odometerOut = miles(480'200); // a slip, now corrected
    EXPECT_TRUE(validate(job, s.shelf, past).empty());
}

TEST_F(JobRules, NameTheSuccessorOfASupersededPartAndCalibration) {
    job.parts = {{s.oldPhaser, Position{1, CamRole::Intake}, "L1", 1, Money{}}};
    job.calibrationAfter = "QC01";
    const auto findings = validate(job, s.shelf, past);
    EXPECT_EQ(worstIn(findings, "parts[0].part"), Severity::Warning);
    EXPECT_EQ(worstIn(findings, "calibrationAfter"), Severity::Warning);
    EXPECT_EQ(findings[0].message, "QP-1100 A is superseded by QP-1100 B.");
    EXPECT_EQ(findings[1].message, "QC01 is superseded by QC02.");
}

TEST_F(JobRules, RefusePartsThatAreNotOnTheShelfOrNone) {
    job.parts = {{key<PartNumberId>(70), std::nullopt, "", 1, Money{}},
                 {s.valve, Position{2, CamRole::Intake}, "", 0, Money{-1}}};
    EXPECT_EQ(worst("parts[0].part"), Severity::Error);
    EXPECT_EQ(worst("parts[1].quantity"), Severity::Error);
    EXPECT_EQ(worst("parts[1].cost"), Severity::Error);
    EXPECT_EQ(worst("parts[1].position"), Severity::Warning);
    job.parts = {{s.valve, Position{1, CamRole::Intake}, "", 1, Money{}},
                 {s.valve, Position{1, CamRole::Intake}, "", 1, Money{}}};
    EXPECT_EQ(worst("parts[1].part"), Severity::Warning);
    job.parts[1].lot = "L2";
    EXPECT_FALSE(worst("parts[1].part")) << "of another lot";
}

TEST_F(JobRules, WantTroubleCodesInTheirForm) {
    job.codes = {{"P0011", false}, {"p0011", false}, {"P001", true}};
    EXPECT_FALSE(worst("codes[0].code"));
    EXPECT_EQ(worst("codes[1].code"), Severity::Error);
    EXPECT_EQ(worst("codes[2].code"), Severity::Error);
}

TEST_F(JobRules, WarnOfAPathThatIsNotListedForTheEngine) {
    past.vehicle.modelYear = 2012;
    EXPECT_EQ(worst("path"), Severity::Warning);
    job.path = key<RepairPathId>(70);
    EXPECT_EQ(worst("path"), Severity::Error);
}

TEST_F(JobRules, RefuseNegativeAmountsAndWarnOfOddOnes) {
    job.partsPrice = job.labourPrice = job.sublet = job.tax = job.comebackCost = Money{-1};
    job.discount = Money{-1};
    job.hours = Hours{-1};
    job.warrantyMonths = -1;
    job.warrantyDistance = miles(-1);
    job.oilPressureKpa = -1;
    job.before = {-1, -1};
    for (const char* field :
         {"partsPrice", "labourPrice", "sublet", "tax", "comebackCost", "discount", "hours", "warrantyMonths",
          "warrantyDistance", "oilPressureKpa", "before.soakHours", "before.rattleTenths"})
        EXPECT_EQ(worst(field), Severity::Error) << field;
    job = repair(9, "2031-04-09", 48'200);
    job.discount = Money{1};
    job.hours = Hours{10'001};
    job.oilPressureKpa = 1'001;
    job.after = {3, 601};
    job.deliveryCheck = DeliveryCheck::Noisy;
    for (const char* field : {"discount", "hours", "oilPressureKpa", "after.rattleTenths"})
        EXPECT_EQ(worst(field), Severity::Warning) << field;
    EXPECT_EQ(worst("after.soakHours"), Severity::Hint);
    job.after.soakHours = 4;
    EXPECT_FALSE(worst("after.soakHours"));
}

TEST_F(JobRules, RefuseNegativeCostsOfAComebackByKindAndWarnOfACreditAboveThem) {
    job.comebackCosts = {Money{-1}, Money{-1}, Money{-1}, Money{-1}, Money{-1}, Money{-1}};
    job.claimAmount = Money{-1};
    for (const char* field :
         {"comebackCosts.labour", "comebackCosts.parts", "comebackCosts.rental", "comebackCosts.towing",
          "comebackCosts.goodwill", "comebackCosts.credit", "claimAmount"})
        EXPECT_EQ(worst(field), Severity::Error) << field;
    job = repair(9, "2031-04-09", 48'200);
    job.comebackCosts = {Money{600}, Money{500}, Money{40}, Money{30}, Money{20}, Money{1'000}};
    job.comebackCost = Money{10};
    EXPECT_EQ(job.comebackTotal(), Money{200}); // by hand: 600 + 500 + 40 + 30 + 20 - 1,000 + 10
    EXPECT_FALSE(worst("comebackCosts.credit"));
    job.comebackCosts.credit = Money{1'201};
    EXPECT_EQ(worst("comebackCosts.credit"), Severity::Warning);
}

// Source: common practice of parts claims, no published source.
TEST_F(JobRules, WantAClaimToSayWhereItStandsAndWhatThatNeeds) {
    EXPECT_FALSE(worst("claimState"));
    job.claimNumber = "LD-1";
    EXPECT_EQ(worst("claimState"), Severity::Warning);
    job.claimState = ClaimState::Filed;
    EXPECT_FALSE(worst("claimState"));
    EXPECT_FALSE(worst("claimNumber"));
    job.claimNumber.clear();
    EXPECT_EQ(worst("claimNumber"), Severity::Hint);
    job.claimState = ClaimState::ToFile;
    EXPECT_EQ(worst("claimDeadline"), Severity::Warning);
    job.claimDeadline = day("2031-05-09");
    EXPECT_FALSE(worst("claimDeadline"));
    job.claimDeadline = Date{};
    EXPECT_EQ(worst("claimDeadline"), Severity::Error);
    job.claimDeadline.reset();
    job.claimState = ClaimState::Credited;
    job.claimAmount = Money{500};
    EXPECT_EQ(worst("comebackCosts.credit"), Severity::Warning) << "nothing was credited";
    job.comebackCosts = {Money{900}, Money{}, Money{}, Money{}, Money{}, Money{500}};
    EXPECT_FALSE(worst("comebackCosts.credit"));
    job.comebackCosts.credit = Money{501};
    EXPECT_EQ(worst("comebackCosts.credit"), Severity::Warning);
}

TEST_F(JobRules, WantAComebackToPointToAnEarlierDeliveredRepairOfTheVehicle) {
    past.jobs = {repair(1, "2030-04-09", 40'000)};
    job = comeback(9, 1, "2031-04-09", 48'200);
    EXPECT_FALSE(worst("comebackOf"));
    past.jobs[0].delivered = day("2031-04-10"); // after the write-up
    past.jobs[0].odometerOut = miles(48'200);
    EXPECT_EQ(worst("comebackOf"), Severity::Error);
    past.jobs[0].delivered = std::nullopt;
    EXPECT_EQ(worst("comebackOf"), Severity::Error);
    past.jobs[0] = repair(1, "2030-04-09", 40'000);
    past.jobs[0].voidReason = "typed twice";
    EXPECT_EQ(worst("comebackOf"), Severity::Error);
    past.jobs[0] = visit(1, "2030-04-09", 40'000);
    past.jobs[0].delivered = day("2030-04-09");
    EXPECT_EQ(worst("comebackOf"), Severity::Error);
    past.jobs.clear();
    EXPECT_EQ(worst("comebackOf"), Severity::Error);
    job.comebackOf = job.id;
    EXPECT_EQ(worst("comebackOf"), Severity::Error);
    job.comebackOf = std::nullopt;
    EXPECT_EQ(worst("comebackOf"), Severity::Error) << "decided, but of which job?";
}

TEST_F(JobRules, WantAReasonForNotAComebackAndAName) {
    past.jobs = {repair(1, "2030-04-09", 40'000)};
    job = comeback(9, 1, "2031-04-09", 48'200);
    job.comebackDecision = ComebackDecision::Unrelated;
    EXPECT_EQ(worst("comebackCause"), Severity::Error);
    job.comebackCause = "a loose heat shield";
    EXPECT_FALSE(worst("comebackCause"));
    job.decidedBy = std::nullopt;
    EXPECT_EQ(worst("decidedBy"), Severity::Warning);
}

TEST_F(JobRules, ProposeTheLinkUntilAPersonDecides) {
    past.jobs = {repair(1, "2030-04-09", 40'000)};
    EXPECT_EQ(worst("comebackOf"), Severity::Warning) << "delivered";
    job.delivered = std::nullopt;
    job.odometerOut = std::nullopt;
    EXPECT_EQ(worst("comebackOf"), Severity::Hint) << "in work";
    job.concernGroup = ConcernGroup::OilLeak;
    EXPECT_FALSE(worst("comebackOf"));
}

TEST_F(JobRules, AlwaysLetAJobBeVoidedWithAReason) {
    job.path = std::nullopt;
    job.odometerOut = miles(-5);
    job.voidReason = "wrong vehicle";
    EXPECT_TRUE(validate(job, s.shelf, past).empty());
    job.voidReason = "  ";
    EXPECT_EQ(worst("voidReason"), Severity::Error);
}

TEST_F(JobRules, WarnWhenADeliveryIsTakenBack) {
    past.jobs = {job};
    job.delivered = std::nullopt;
    EXPECT_EQ(worst("delivered"), Severity::Warning);
}

TEST_F(JobRules, WantTheVehicleOfTheHistory) {
    job.vehicle = key<VehicleId>(2);
    EXPECT_EQ(worst("vehicle"), Severity::Error);
    job.vehicle = VehicleId{};
    EXPECT_EQ(worst("vehicle"), Severity::Error);
}

TEST_F(JobRules, AskLessOfAVisitForSomethingElse) {
    job = visit(9, "2031-04-09", 48'200);
    job.delivered = day("2031-04-09");
    EXPECT_TRUE(validate(job, s.shelf, past).empty());
    job.odometerIn = std::nullopt;
    EXPECT_EQ(worst("odometerIn"), Severity::Warning);
}

TEST_F(JobRules, WantOfARepairElsewhereWhereItWasMadeAndFirstSeen) {
    job.kind = JobKind::Elsewhere;
    job.odometerIn = std::nullopt;
    job.technician = std::nullopt;
    job.firstSeen = miles(52'000);
    EXPECT_FALSE(hasErrors(validate(job, s.shelf, past)));
    job.firstSeen = miles(48'199);
    EXPECT_EQ(worst("firstSeen"), Severity::Error);
    job.firstSeen = std::nullopt;
    EXPECT_EQ(worst("firstSeen"), Severity::Warning);
    job.odometerOut = std::nullopt;
    EXPECT_EQ(worst("odometerOut"), Severity::Error);
}

TEST(ComebackProposal, TakesTheLatestDeliveredRepairOfTheSameConcern) {
    VehicleHistory past = history();
    past.jobs = {repair(1, "2029-01-05", 10'000), repair(2, "2030-01-05", 20'000),
                 repair(3, "2030-06-05", 30'000)};
    past.jobs[2].concernGroup = ConcernGroup::OilLeak;
    Job back = visit(9, "2031-01-05", 40'000);
    back.concernGroup = ConcernGroup::StartupRattle;
    EXPECT_EQ(proposeComebackOf(back, past), job(2));
    past.jobs[1].voidReason = "typed twice";
    EXPECT_EQ(proposeComebackOf(back, past), job(1));
    past.jobs[0].delivered = std::nullopt;
    EXPECT_FALSE(proposeComebackOf(back, past));
}

TEST(ComebackProposal, NeedsAConcernAndALaterDay) {
    VehicleHistory past = history();
    past.jobs = {repair(1, "2029-01-05", 10'000)};
    Job back = visit(9, "2031-01-05", 40'000);
    EXPECT_FALSE(proposeComebackOf(back, past)) << "no concern";
    back.concernGroup = ConcernGroup::StartupRattle;
    back.writtenUp = day("2029-01-04");
    EXPECT_FALSE(proposeComebackOf(back, past)) << "before the repair";
    back.writtenUp = day("2029-01-05");
    EXPECT_EQ(proposeComebackOf(back, past), job(1));
    EXPECT_FALSE(proposeComebackOf(past.jobs[0], past)) << "not of itself";
    past.jobs[0].concernGroup = ConcernGroup::None;
    back.concernGroup = ConcernGroup::ChainNoise;
    EXPECT_EQ(proposeComebackOf(back, past), job(1))
        << "a repair without a concern answers for every timing concern";
    back.concernGroup = ConcernGroup::OilLeak;
    EXPECT_FALSE(proposeComebackOf(back, past));
}

} // namespace
} // namespace milehold::core
