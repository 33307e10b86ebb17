// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/validation.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using namespace testing_support;

TEST(ValidationOfPeople, WantsANameAndARole) {
    Staff staff;
    EXPECT_EQ(worstIn(validate(staff), "name"), Severity::Error);
    staff.name = " \t";
    EXPECT_EQ(worstIn(validate(staff), "name"), Severity::Error);
    staff.name = "Tove Brandt";
    EXPECT_EQ(worstIn(validate(staff), "technician"), Severity::Warning);
    staff.advisor = true;
    EXPECT_TRUE(validate(staff).empty());
}

TEST(ValidationOfPeople, WantsPhonesWithDigitsAndAddressesWithAnAt) {
    Customer customer;
    customer.name = "Ada Lind";
    customer.phones = {"555 0100", "call the office"};
    customer.emails = {"ada@lind.example", "ada", "@x", "x@", "a@b@c", "a b@c"};
    const auto findings = validate(customer);
    EXPECT_FALSE(worstIn(findings, "phones[0]"));
    EXPECT_EQ(worstIn(findings, "phones[1]"), Severity::Error);
    EXPECT_FALSE(worstIn(findings, "emails[0]"));
    for (const char* field : {"emails[1]", "emails[2]", "emails[3]", "emails[4]", "emails[5]"})
        EXPECT_EQ(worstIn(findings, field), Severity::Error) << field;
}

TEST(ValidationOfPeople, NeverRepeatsCustomerData) {
    Customer customer;
    customer.name = "";
    customer.phones = {"no phone SECRET"};
    customer.emails = {"SECRET"};
    Vehicle car;
    car.vin = "SECRETSECRETSECRE";
    car.modelYear = 2020;
    for (const auto& findings : {validate(customer), validate(car)})
        for (const auto& finding : findings)
            EXPECT_EQ(finding.message.find("SECRET"), std::string::npos);
}

TEST(ValidationOfVehicles, PassesOneThatIsComplete) {
    EXPECT_TRUE(validate(vehicle()).empty());
}

TEST(ValidationOfVehicles, ReportsTheVinByItsRules) {
    Vehicle car = vehicle();
    car.vin = "1ZZBT4A21E000001";
    EXPECT_EQ(worstIn(validate(car), "vin"), Severity::Error);
    car.vin = "1zzbt4a21e0000017"; // stored in capitals only
    EXPECT_EQ(worstIn(validate(car), "vin"), Severity::Error);
}

TEST(ValidationOfVehicles, WarnsWhenNothingIdentifiesItOrNothingGroupsIt) {
    Vehicle car = vehicle();
    car.plate = "";
    EXPECT_EQ(worstIn(validate(car), "vin"), Severity::Warning);
    car.family = std::nullopt;
    EXPECT_EQ(worstIn(validate(car), "family"), Severity::Warning);
    car.modelYear = 202;
    EXPECT_EQ(worstIn(validate(car), "modelYear"), Severity::Error);
}

TEST(ValidationOfEngineFamilies, WantsDistinctPositionsOnItsBanks) {
    EngineFamily family{
        key<EngineFamilyId>(1), "Quill 1.6", 1, {{1, CamRole::Intake}, {1, CamRole::Exhaust}}, "", 0};
    EXPECT_TRUE(validate(family).empty());
    family.positions.push_back({1, CamRole::Intake});
    EXPECT_EQ(worstIn(validate(family), "positions[2]"), Severity::Error);
    family.positions[2] = {2, CamRole::Intake};
    EXPECT_EQ(worstIn(validate(family), "positions[2]"), Severity::Error);
    family.banks = 2;
    EXPECT_TRUE(validate(family).empty());
    family.positions[2] = {1, CamRole::Single};
    EXPECT_EQ(worstIn(validate(family), "positions[2]"), Severity::Warning);
    family.banks = 3;
    EXPECT_EQ(worstIn(validate(family), "banks"), Severity::Error);
    family.name = "";
    EXPECT_EQ(worstIn(validate(family), "name"), Severity::Error);
}

TEST(ValidationOfSettings, PassesTheDefaultsWithAName) {
    ShopSettings settings;
    EXPECT_EQ(worstIn(validate(settings), "name"), Severity::Error);
    settings.name = "Harbour Road Timing";
    EXPECT_TRUE(validate(settings).empty());
}

TEST(ValidationOfSettings, RefusesWhatNoCurrencyYearOrLimitCanBe) {
    ShopSettings settings;
    settings.name = "Harbour Road Timing";
    settings.currency = "usd";
    settings.defaultYearly = Distance();
    settings.lostAfterMonths = 0;
    settings.warrantyMonths = -1;
    settings.warrantyDistance = miles(-1);
    const auto findings = validate(settings);
    for (const char* field :
         {"currency", "defaultYearly", "lostAfterMonths", "warrantyMonths", "warrantyDistance"})
        EXPECT_EQ(worstIn(findings, field), Severity::Error) << field;
}

TEST(ValidationOfParts, RefusesASupersessionThatRunsInACircle) {
    const SmallShelf s;
    PartNumber part = *s.shelf.find(s.newPhaser);
    part.supersededBy = s.oldPhaser; // which is superseded by this one
    EXPECT_EQ(worstIn(validate(part, s.shelf), "supersededBy"), Severity::Error);
    part.supersededBy = part.id;
    EXPECT_EQ(worstIn(validate(part, s.shelf), "supersededBy"), Severity::Error);
    part.supersededBy = key<PartNumberId>(77);
    EXPECT_EQ(worstIn(validate(part, s.shelf), "supersededBy"), Severity::Error);
    part.supersededBy = s.valve;
    EXPECT_EQ(worstIn(validate(part, s.shelf), "supersededBy"), Severity::Warning);
    part.supersededBy = std::nullopt;
    EXPECT_TRUE(validate(part, s.shelf).empty());
}

TEST(ValidationOfParts, RefusesASuccessorThatItselfRunsInACircle) {
    SmallShelf s;
    s.shelf.parts[1].supersededBy = s.oldPhaser; // old and new supersede each other
    PartNumber part;
    part.id = key<PartNumberId>(50);
    part.number = "QP-1000";
    part.component = Component::Phaser;
    part.supersededBy = s.oldPhaser;
    EXPECT_EQ(worstIn(validate(part, s.shelf), "supersededBy"), Severity::Error);
}

TEST(ValidationOfParts, WantsANumberThatIsNotTakenAtThatRevision) {
    const SmallShelf s;
    PartNumber part = *s.shelf.find(s.newPhaser);
    part.id = key<PartNumberId>(50);
    EXPECT_EQ(worstIn(validate(part, s.shelf), "number"), Severity::Error);
    part.revisionLabel = "C";
    EXPECT_TRUE(validate(part, s.shelf).empty());
    part.number = "";
    EXPECT_EQ(worstIn(validate(part, s.shelf), "number"), Severity::Error);
    part.claimMonths = -1;
    EXPECT_EQ(worstIn(validate(part, s.shelf), "claimMonths"), Severity::Error);
    part.introducedOn = Date{};
    EXPECT_EQ(worstIn(validate(part, s.shelf), "introducedOn"), Severity::Error);
}

TEST(ValidationOfParts, WantsTheNextCheckAfterTheLast) {
    const SmallShelf s;
    PartNumber part = *s.shelf.find(s.valve);
    part.freshness = {day("2031-05-01"), day("2031-04-30")};
    EXPECT_EQ(worstIn(validate(part, s.shelf), "freshness.checkAgainBy"), Severity::Error);
    part.freshness = {day("2031-05-01"), day("2031-05-01")};
    EXPECT_TRUE(validate(part, s.shelf).empty());
    part.freshness = {Date{}, std::nullopt};
    EXPECT_EQ(worstIn(validate(part, s.shelf), "freshness.checkedOn"), Severity::Error);
}

TEST(ValidationOfCalibrations, RefusesACircleAndATakenCode) {
    const SmallShelf s;
    Calibration calibration = *s.shelf.find(s.oldCalibration);
    calibration.supersedes = s.newCalibration;
    EXPECT_EQ(worstIn(validate(calibration, s.shelf), "supersedes"), Severity::Error);
    calibration.supersedes = key<CalibrationId>(70);
    EXPECT_EQ(worstIn(validate(calibration, s.shelf), "supersedes"), Severity::Error);
    Calibration twin = *s.shelf.find(s.newCalibration);
    EXPECT_TRUE(validate(twin, s.shelf).empty());
    twin.id = key<CalibrationId>(71);
    EXPECT_EQ(worstIn(validate(twin, s.shelf), "code"), Severity::Error);
    twin.module = "gearbox";
    EXPECT_TRUE(validate(twin, s.shelf).empty());
    twin.releasedOn = day("2028-01-01"); // before the one that it supersedes
    EXPECT_EQ(worstIn(validate(twin, s.shelf), "supersedes"), Severity::Warning);
    twin.fromYear = 2025;
    twin.toYear = 2020;
    EXPECT_EQ(worstIn(validate(twin, s.shelf), "fromYear"), Severity::Error);
    twin.family = key<EngineFamilyId>(70);
    EXPECT_EQ(worstIn(validate(twin, s.shelf), "family"), Severity::Error);
}

TEST(ValidationOfPaths, NamesTheSuccessorOfASupersededPartOrCalibration) {
    const SmallShelf s;
    const auto findings = validate(s.shelf.paths[0], s.shelf);
    EXPECT_FALSE(hasErrors(findings));
    EXPECT_EQ(worstIn(findings, "parts[0].part"), Severity::Warning);
    EXPECT_EQ(worstIn(findings, "calibration"), Severity::Warning);
    for (const auto& finding : findings)
        EXPECT_TRUE(finding.message == "QP-1100 A is superseded by QP-1100 B." ||
                    finding.message == "QC01 is superseded by QC02.")
            << finding.message;
}

TEST(ValidationOfPaths, RefusesWhatIsNotOnTheShelfAndWhatCannotBe) {
    const SmallShelf s;
    RepairPath path = *s.shelf.find(s.valves);
    EXPECT_TRUE(validate(path, s.shelf).empty());
    path.name = "Phasers, both cams";
    path.parts[0].part = key<PartNumberId>(70);
    path.parts[1].quantity = 0;
    path.applies[0].family = key<EngineFamilyId>(70);
    path.applies[0].fromYear = 2030;
    path.applies[0].needsCalibration = s.newCalibration;
    path.applies[0].excludesCalibration = s.newCalibration;
    path.calibration = key<CalibrationId>(70);
    path.hours = Hours{-1};
    path.price = Money{-1};
    path.lines = {""};
    path.cautions = {" "};
    path.replaceOnce = {""};
    const auto findings = validate(path, s.shelf);
    for (const char* field : {"name", "parts[0].part", "parts[1].quantity", "applies[0].family",
                              "applies[0].fromYear", "applies[0].excludesCalibration", "calibration", "hours",
                              "price", "lines[0]", "cautions[0]", "replaceOnce[0]"})
        EXPECT_EQ(worstIn(findings, field), Severity::Error) << field;
    path.applies.clear();
    EXPECT_EQ(worstIn(validate(path, s.shelf), "applies"), Severity::Warning);
}

TEST(ValidationOfPaths, WarnsOfAPositionThatNoneOfItsEnginesHas) {
    const SmallShelf s;
    RepairPath path = *s.shelf.find(s.valves);
    path.parts[0].position = Position{2, CamRole::Intake};
    EXPECT_EQ(worstIn(validate(path, s.shelf), "parts[0].position"), Severity::Warning);
}

TEST(ValidationOfNotes, WantsATextASubjectAndHintsAtASource) {
    ShelfNote note;
    auto findings = validate(note);
    EXPECT_EQ(worstIn(findings, "text"), Severity::Error);
    EXPECT_EQ(worstIn(findings, "subjectId"), Severity::Error);
    EXPECT_EQ(worstIn(findings, "source"), Severity::Hint);
    note.text = "Drain the gallery first.";
    note.subjectId = key<RepairPathId>(1).uuid;
    note.source = "our own trial";
    EXPECT_TRUE(validate(note).empty());
}

TEST(Validation, ListsTheWorstFirstWithinAField) {
    Vehicle car = vehicle();
    car.vin = "";
    car.plate = "";
    car.family = std::nullopt;
    const auto findings = validate(car);
    ASSERT_EQ(findings.size(), 2U);
    EXPECT_EQ(findings[0].field, "vin");
    EXPECT_EQ(findings[1].field, "family");
    Job job = repair(1, "2031-04-09", 40'000);
    job.odometerOut = miles(39'000);
    VehicleHistory past = history();
    past.odometers = {reading(1, "2031-04-08", 1'000)};
    const auto ofOut = validate(job, SmallShelf().shelf, past);
    Severity last = Severity::Error;
    for (const auto& finding : ofOut)
        if (finding.field == "odometerOut") {
            EXPECT_LE(finding.severity, last);
            last = finding.severity;
        }
    EXPECT_EQ(last, Severity::Warning) << "both an error and a warning were expected";
}

} // namespace
} // namespace milehold::core
