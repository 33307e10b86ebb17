// SPDX-License-Identifier: GPL-3.0-or-later
// What is read is what was stored, for every field of every record.
#include "storage/make_id.h"
#include "tests/storage/support/shop_fixture.h"

namespace milehold::test {

using core::Distance;
using core::ErrorCode;
using core::Money;

class Records : public EngineTest {};

ON_BOTH_ENGINES(Records);

TEST_P(Records, ShopSettingsComeBackAsStored) {
    auto stored = shop().settings();
    ASSERT_OK(stored);
    core::ShopSettings wanted = someSettings();
    wanted.revision = 1;
    EXPECT_EQ(*stored, wanted);
    wanted.name = oddText();
    wanted.unit = core::DistanceUnit::Kilometres;
    wanted.warrantyMonths.reset();
    wanted.warrantyDistance.reset();
    wanted.quietVisitCounts = true;
    auto saved = shop().saveSettings(wanted);
    ASSERT_OK(saved);
    EXPECT_EQ(saved->revision, 2);
    reopen();
    EXPECT_HOLDS(shop().settings(), *saved);
}

TEST_P(Records, StaffComeBackAsStored) {
    core::Staff staff = someStaff();
    staff.name = oddText();
    staff.advisor = true;
    staff.owner = true;
    staff.active = false;
    auto saved = shop().staff().save(staff);
    ASSERT_OK(saved);
    staff.revision = 1;
    EXPECT_EQ(*saved, staff);
    EXPECT_HOLDS(shop().staff().find(staff.id), *saved);
    EXPECT_EQ(shop().staff().list()->size(), 2U);
}

TEST_P(Records, CustomersComeBackAsStoredWithLongAndEmptyText) {
    core::Customer saved = *shop().customers().find(customer.id);
    saved.name = "O'Brien; " + oddText();
    saved.phones = {"1", "+49 (0) 30 / 55 01 99", "1"};
    saved.emails.clear();
    saved.bestTime.clear();
    saved.doNotCall = true;
    saved.note = longText();
    auto changed = shop().customers().save(saved);
    ASSERT_OK(changed);
    EXPECT_EQ(changed->revision, saved.revision + 1);
    EXPECT_HOLDS(shop().customers().find(customer.id), *changed);
}

TEST_P(Records, VehiclesComeBackAsStored) {
    core::Vehicle other = someVehicle();
    other.vin.clear();
    other.modelYear.reset();
    other.plate = oddText();
    other.maker = oddText();
    other.model = longText();
    auto saved = shop().vehicles().save(other);
    ASSERT_OK(saved);
    EXPECT_HOLDS(shop().vehicles().find(other.id), *saved);
    EXPECT_HOLDS(shop().vehicles().find(vehicle.id), vehicle);
}

TEST_P(Records, ShelfItemsComeBackAsStored) {
    core::PartNumber next = part;
    next.id = {};
    next.revision = 0;
    next.revisionLabel = "D";
    next.whatChanged = oddText();
    next.introducedOn = day(2030, 2, 28);
    next.supplier = "Nordlicht Parts";
    next.claimMonths = 24;
    next.freshness = {day(2030, 3, 1), day(2031, 3, 1)};
    auto savedNext = shop().shelf().save(next);
    ASSERT_OK(savedNext);
    part.supersededBy = savedNext->id;
    auto superseded = shop().shelf().save(part);
    ASSERT_OK(superseded);

    core::Calibration newer;
    newer.code = "K7-0044";
    newer.module = "engine";
    newer.family = family.id;
    newer.fromYear = 1985;
    newer.toYear = 1992;
    newer.supersedes = calibration.id;
    newer.releasedOn = day(2030, 12, 31);
    newer.freshness.checkedOn = day(2031, 1, 2);
    auto savedNewer = shop().shelf().save(newer);
    ASSERT_OK(savedNewer);

    path.lines = {"Drain oil", oddText(), ""};
    path.lines.pop_back();
    path.parts = {
        {.part = savedNext->id, .position = core::Position{2, core::CamRole::Exhaust}, .quantity = 2},
        {.part = part.id, .position = {}, .quantity = 1}};
    path.applies.push_back({.id = {},
                            .family = family.id,
                            .fromYear = 1990,
                            .toYear = {},
                            .needsCalibration = calibration.id,
                            .excludesCalibration = savedNewer->id});
    path.calibration = savedNewer->id;
    path.hours = {1'150};
    path.price = {189'900};
    path.replaceOnce = {"Phaser bolt"};
    path.cautions = {"Lock the cams before the chain comes off."};
    path.active = false;
    auto savedPath = shop().shelf().save(path);
    ASSERT_OK(savedPath);

    core::ShelfNote note;
    note.subject = core::ShelfSubject::PartNumber;
    note.subjectId = part.id.uuid;
    note.text = oddText();
    note.source = "seen at the bench";
    note.freshness.checkAgainBy = day(2032, 1, 1);
    auto savedNote = shop().shelf().save(note);
    ASSERT_OK(savedNote);

    reopen();
    const auto shelf = shop().shelf().load();
    ASSERT_OK(shelf);
    EXPECT_EQ(*shelf->find(family.id), family);
    EXPECT_EQ(*shelf->find(part.id), *superseded);
    EXPECT_EQ(*shelf->find(savedNext->id), *savedNext);
    EXPECT_EQ(*shelf->find(savedNewer->id), *savedNewer);
    EXPECT_EQ(*shelf->find(path.id), *savedPath);
    EXPECT_EQ(shelf->notes, std::vector{*savedNote});
}

/// A job with every field set.
core::Job fullJob(const core::Job& finished, core::StaffId advisor, core::JobId earlier) {
    core::Job job = finished;
    job.repairOrder = "RO-1188/b";
    job.started = job.writtenUp;
    job.advisor = advisor;
    job.concernGroup = core::ConcernGroup::ChainNoise;
    job.concern = oddText();
    job.cause = longText();
    job.correction = "Both phasers.";
    job.before = {12, 25};
    job.after = {9, 0};
    job.oilLevel = core::OilLevel::Low;
    job.oilCondition = core::OilCondition::Dark;
    job.oilGrade = "5W-30";
    job.oilPressureKpa = 140;
    job.calibrationBefore = "K7-0029";
    job.calibrationAfter = "K7-0031";
    job.lines = {"Drain oil", oddText(), "Set timing"};
    job.parts.push_back(
        {.part = job.parts[0].part, .position = {}, .lot = oddText(), .quantity = 3, .cost = {125}});
    job.codes = {{"P0011", false}, {"P0021", false}, {"P0011", true}};
    job.hours = {845};
    job.partsPrice = {44'000};
    job.labourPrice = {98'000};
    job.sublet = {1'200};
    job.tax = {8'801};
    job.discount = {2'500};
    job.warrantyMonths = 24;
    job.warrantyDistance = Distance::miles(24'000);
    job.comebackOf = earlier;
    job.comebackDecision = core::ComebackDecision::Workmanship;
    job.decidedBy = advisor;
    job.comebackCause = "Bolt not angled.";
    job.payer = core::Payer::Shop;
    job.comebackCost = {31'250};
    job.claimNumber = "C-9";
    job.claimDeadline = day(2031, 9, 30);
    job.comebackCosts = {{12'750}, {8'800}, {4'500}, {1'200}, {999}, {6'000}};
    job.claimState = core::ClaimState::Credited;
    job.claimAmount = core::Money{7'000};
    return job;
}

TEST_P(Records, JobsComeBackAsStoredWithLinesPartsAndCodes) {
    const core::Job earlier = saved(finishedJob(day(2030, 1, 15), 30'000));
    const core::Job job = saved(fullJob(finishedJob(), technician.id, earlier.id));
    EXPECT_EQ(job.revision, 1);
    EXPECT_EQ(job.number, earlier.number + 1);
    reopen();
    EXPECT_HOLDS(shop().jobs().find(job.id), job);
    EXPECT_HOLDS(shop().jobs().findByNumber(job.number), std::optional(job));

    core::Job changed = job;
    changed.lines = {"One line"};
    changed.parts.clear();
    changed.codes.clear();
    changed.started.reset();
    changed.before = {};
    changed.oilPressureKpa.reset();
    changed.warrantyDistance.reset();
    changed = saved(changed);
    EXPECT_EQ(changed.revision, 2);
    reopen();
    EXPECT_HOLDS(shop().jobs().find(job.id), changed);
}

TEST_P(Records, FollowUpsComeBackAsStored) {
    const core::Job job = saved(finishedJob());
    core::FollowUp call;
    call.job = job.id;
    call.date = day(2031, 4, 20);
    call.outcome = core::FollowUpOutcome::NoiseBack;
    call.odometer = Distance::miles(50'900);
    call.odometerEstimated = true;
    call.noiseSince = Distance::miles(50'500);
    call.by = technician.id;
    call.note = oddText();
    auto stored = shop().followUps().save(call);
    ASSERT_OK(stored);
    EXPECT_HOLDS(shop().followUps().find(stored->id), *stored);
    EXPECT_HOLDS(shop().followUps().ofJob(job.id), std::vector{*stored});

    core::FollowUp later;
    later.job = job.id;
    later.date = day(2031, 4, 21);
    later.outcome = core::FollowUpOutcome::CallLater;
    later.callOn = day(2031, 6, 2);
    later.voidReason = oddText();
    auto promised = shop().followUps().save(later);
    ASSERT_OK(promised);
    EXPECT_EQ(promised->callOn, later.callOn);
    EXPECT_EQ(promised->voidReason, later.voidReason);
    reopen();
    EXPECT_HOLDS(shop().followUps().find(promised->id), *promised);
}

TEST_P(Records, OdometerReadingsComeBackAsStored) {
    core::OdometerReading reading;
    reading.vehicle = vehicle.id;
    reading.date = day(2031, 1, 1);
    reading.shown = Distance::kilometres(3);
    reading.resetOffset = Distance::miles(61'000);
    auto stored = shop().vehicles().saveOdometer(reading);
    ASSERT_OK(stored);
    EXPECT_EQ(shop().vehicles().history(vehicle.id)->odometers, std::vector{*stored});
    ASSERT_OK(shop().vehicles().removeOdometer(stored->id, stored->revision));
    EXPECT_TRUE(shop().vehicles().history(vehicle.id)->odometers.empty());
}

TEST_P(Records, RefusesTextThatNoColumnTakes) {
    core::Customer broken = customer;
    broken.note = std::string("a\0b", 3);
    EXPECT_FAILS(shop().customers().save(broken), ErrorCode::InvalidInput);
    broken.note = "lone \xED\xA0\x80 surrogate";
    EXPECT_FAILS(shop().customers().save(broken), ErrorCode::InvalidInput);
    broken.note = "cut \xC3";
    EXPECT_FAILS(shop().customers().save(broken), ErrorCode::InvalidInput);
    broken.note = "\xEF\xBB\xBFmark at the front";
    EXPECT_FAILS(shop().customers().save(broken), ErrorCode::InvalidInput);
    EXPECT_HOLDS(shop().customers().find(customer.id), customer);
}

TEST_P(Records, ASaveOfAnOldRevisionIsAConflict) {
    core::Customer mine = customer;
    core::Customer theirs = customer;
    theirs.note = "theirs";
    ASSERT_OK(shop().customers().save(theirs));
    mine.note = "mine";
    EXPECT_FAILS(shop().customers().save(mine), ErrorCode::Conflict);
    EXPECT_EQ(shop().customers().find(customer.id)->note, "theirs");
    EXPECT_FAILS(shop().customers().remove(customer.id, customer.revision), ErrorCode::Conflict);
}

TEST_P(Records, ASaveOfARemovedRecordIsAConflict) {
    auto other = shop().staff().save(someStaff());
    ASSERT_OK(other);
    ASSERT_OK(shop().staff().remove(other->id, other->revision));
    EXPECT_FAILS(shop().staff().save(*other), ErrorCode::Conflict);
    EXPECT_FAILS(shop().staff().find(other->id), ErrorCode::NotFound);
}

TEST_P(Records, ASaveThatChangesNothingKeepsTheRevision) {
    const auto head = shop().changeLog().head();
    EXPECT_HOLDS(shop().customers().save(customer), customer);
    EXPECT_HOLDS(shop().changeLog().head(), *head);
}

TEST_P(Records, WhatIsNamedByAnotherRecordIsNotRemoved) {
    const core::Job job = saved(finishedJob());
    EXPECT_FAILS(shop().customers().remove(customer.id, customer.revision), ErrorCode::InvalidInput);
    EXPECT_FAILS(shop().vehicles().remove(vehicle.id, vehicle.revision), ErrorCode::InvalidInput);
    EXPECT_FAILS(shop().staff().remove(technician.id, technician.revision), ErrorCode::InvalidInput);
    EXPECT_FAILS(shop().shelf().remove(path.id, path.revision), ErrorCode::InvalidInput);
    EXPECT_FAILS(shop().shelf().remove(part.id, part.revision), ErrorCode::InvalidInput);
    EXPECT_FAILS(shop().shelf().remove(family.id, family.revision), ErrorCode::InvalidInput);
    EXPECT_HOLDS(shop().jobs().find(job.id), job);
}

TEST_P(Records, AClosedShopAnswersWithAnErrorAndNeverWithNothing) {
    ASSERT_OK(shop().close());
    EXPECT_FALSE(shop().customers().find(customer.id).has_value());
    EXPECT_FALSE(shop().staff().list().has_value());
    EXPECT_FALSE(shop().shelf().load().has_value());
    EXPECT_FALSE(shop().jobs().rows({}).has_value());
    EXPECT_FALSE(shop().vehicles().search("AB", 5).has_value());
    EXPECT_FALSE(shop().lives().records(day(2031, 5, 1)).has_value());
    EXPECT_FALSE(shop().drafts().list().has_value());
    EXPECT_FALSE(shop().changeLog().newest(5).has_value());
    EXPECT_FALSE(shop().customers().save(customer).has_value());
    EXPECT_FALSE(shop().drafts().keep("job", "x").has_value());
    EXPECT_FALSE(shop().backUp(storage::BackupReason::OnDemand).has_value());
    EXPECT_FALSE(shop().verify(storage::CheckDepth::Full).has_value());
}

} // namespace milehold::test
