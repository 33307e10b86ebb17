// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/database/unit_of_work.h"
#include "storage/exchange/exchange_store.h"
#include "storage/make_id.h"
#include "storage/records/stored.h"
#include "storage/undo_store.h"
#include "tests/storage/support/shop_fixture.h"

namespace milehold::test {

using core::ErrorCode;

namespace {

const std::string kWhy = "Taken back";

core::Job plain(core::Job job) {
    job.revision = 0;
    return job;
}

} // namespace

class Undo : public ShopTest {
protected:
    storage::UndoOutcome undo() {
        const auto outcome = storage::undoOf(shop()).undo(kWhy);
        EXPECT_OK(outcome);
        return outcome.value_or(storage::UndoOutcome{});
    }
    storage::UndoOutcome redo() {
        const auto outcome = storage::undoOf(shop()).redo(kWhy);
        EXPECT_OK(outcome);
        return outcome.value_or(storage::UndoOutcome{});
    }
    void startAnew() {
        const auto who = shop().who();
        reopen();
        shop().setWho(who);
    }
    core::Job stored(const core::Job& job) { return *shop().jobs().find(job.id); }
};

TEST_F(Undo, AnEditedJobGetsBackWhatItHeldAlsoAfterTheProgramWasStartedAnew) {
    const core::Job first = saved(finishedJob());
    core::Job edited = first;
    edited.concern = oddText();
    edited.lines = {"one", "two; three"};
    edited.codes = {{"P0011", true}};
    edited.partsPrice = {12'345};
    edited.started.reset();
    edited.odometerOut = core::Distance::miles(50'009);
    edited = saved(edited);
    startAnew();
    const auto state = storage::undoOf(shop()).state();
    ASSERT_OK(state);
    ASSERT_TRUE(state->undo.has_value());
    EXPECT_EQ(state->undo->table, "job");
    EXPECT_EQ(state->undo->label, "1");
    EXPECT_FALSE(state->redo.has_value());
    const auto rows = shop().changeLog().of("job", first.id.uuid)->size();
    EXPECT_TRUE(undo().done);
    EXPECT_EQ(plain(stored(first)), plain(first));
    EXPECT_EQ(stored(first).revision, 3);
    // Taking back is itself a change, written down like any other.
    EXPECT_EQ(shop().changeLog().of("job", first.id.uuid)->size(), rows + 1);
    startAnew();
    EXPECT_TRUE(storage::undoOf(shop()).state()->redo.has_value());
    EXPECT_TRUE(redo().done);
    EXPECT_EQ(plain(stored(first)), plain(edited));
    EXPECT_FALSE(storage::undoOf(shop()).state()->redo.has_value());
    EXPECT_TRUE(undo().done);
    EXPECT_TRUE(redo().done);
    EXPECT_EQ(plain(stored(first)), plain(edited));
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
}

TEST_F(Undo, ANewJobIsVoidedWithTheReasonAndCountsAgainAfterRedo) {
    const core::Job job = saved(finishedJob());
    EXPECT_TRUE(undo().done);
    EXPECT_EQ(stored(job).voidReason, kWhy);
    EXPECT_TRUE(redo().done);
    EXPECT_FALSE(stored(job).isVoid());
    EXPECT_EQ(plain(stored(job)), plain(job));
}

TEST_F(Undo, StepsGoBackOneByOneAndANewSaveEndsTheWayForward) {
    const auto name = [&](const std::string& text) {
        technician.name = text;
        technician = *shop().staff().save(technician);
    };
    const std::string before = technician.name;
    name("Second");
    name("Third");
    EXPECT_TRUE(undo().done);
    EXPECT_EQ(shop().staff().find(technician.id)->name, "Second");
    EXPECT_TRUE(undo().done);
    EXPECT_EQ(shop().staff().find(technician.id)->name, before);
    EXPECT_TRUE(redo().done);
    technician = *shop().staff().find(technician.id);
    EXPECT_EQ(technician.name, "Second");
    name("Fourth");
    EXPECT_FALSE(storage::undoOf(shop()).state()->redo.has_value());
    EXPECT_FAILS(storage::undoOf(shop()).redo(kWhy), ErrorCode::NotFound);
    EXPECT_TRUE(undo().done);
    EXPECT_EQ(shop().staff().find(technician.id)->name, "Second");
}

TEST_F(Undo, ARecordThatSomebodyChangedSinceIsLeftAsItIsAndTheChangeNamed) {
    storage::Who mara{technician.id, "bay-1"};
    shop().setWho(mara);
    part.supplier = "Nordlicht Parts";
    part = *shop().shelf().save(part);
    shop().setWho({std::nullopt, "counter-1"});
    part.supplier = "Quay Supplies";
    part = *shop().shelf().save(part);
    shop().setWho(mara);
    const auto head = shop().changeLog().head();
    const auto outcome = undo();
    EXPECT_FALSE(outcome.done);
    ASSERT_TRUE(outcome.since.has_value());
    EXPECT_EQ(outcome.since->who.station, "counter-1");
    EXPECT_HOLDS(shop().changeLog().head(), *head);
    EXPECT_EQ(shop().shelf().load()->find(part.id)->supplier, "Quay Supplies");
    // The other station takes its own back; then the first can.
    shop().setWho({std::nullopt, "counter-1"});
    EXPECT_TRUE(undo().done);
    shop().setWho(mara);
    EXPECT_TRUE(undo().done);
    EXPECT_EQ(shop().shelf().load()->find(part.id)->supplier, "");
}

TEST_F(Undo, NewAndRemovedRecordsOfEveryKindComeAndGo) {
    core::ShelfNote note;
    note.subject = core::ShelfSubject::PartNumber;
    note.subjectId = part.id.uuid;
    note.text = "Check the lot";
    note = *shop().shelf().save(note);
    EXPECT_TRUE(undo().done);
    EXPECT_TRUE(shop().shelf().load()->notes.empty());
    EXPECT_TRUE(redo().done);
    ASSERT_EQ(shop().shelf().load()->notes.size(), 1U);
    EXPECT_EQ(shop().shelf().load()->notes[0].id, note.id);
    EXPECT_OK(shop().shelf().remove(note.id, shop().shelf().load()->notes[0].revision));
    EXPECT_TRUE(undo().done);
    EXPECT_EQ(shop().shelf().load()->notes[0].text, "Check the lot");

    const core::Job job = saved(finishedJob());
    core::FollowUp call;
    call.job = job.id;
    call.date = day(2031, 4, 20);
    call.outcome = core::FollowUpOutcome::DoNotCall;
    call = *shop().followUps().save(call);
    EXPECT_TRUE(shop().customers().find(customer.id)->doNotCall);
    EXPECT_EQ(storage::undoOf(shop()).state()->undo->table, "follow_up");
    EXPECT_TRUE(undo().done);
    EXPECT_EQ(shop().followUps().ofJob(job.id)->at(0).voidReason, kWhy);
    EXPECT_FALSE(shop().customers().find(customer.id)->doNotCall) << "a slip of the finger silences nobody";
    EXPECT_TRUE(redo().done);
    EXPECT_TRUE(shop().customers().find(customer.id)->doNotCall);
    ASSERT_EQ(shop().followUps().ofJob(job.id)->size(), 1U);
    EXPECT_FALSE(shop().followUps().ofJob(job.id)->at(0).isVoid());

    auto settings = *shop().settings();
    settings.warrantyMonths = 36;
    ASSERT_OK(shop().saveSettings(settings));
    EXPECT_TRUE(undo().done);
    EXPECT_EQ(shop().settings()->warrantyMonths, someSettings().warrantyMonths);

    core::OdometerReading reading;
    reading.vehicle = vehicle.id;
    reading.date = day(2031, 4, 25);
    reading.shown = core::Distance::miles(50'500);
    ASSERT_OK(shop().vehicles().saveOdometer(reading));
    const auto with = shop().vehicles().history(vehicle.id)->odometers.size();
    EXPECT_TRUE(undo().done);
    EXPECT_EQ(shop().vehicles().history(vehicle.id)->odometers.size(), with - 1);
    EXPECT_TRUE(redo().done);
    EXPECT_EQ(shop().vehicles().history(vehicle.id)->odometers.size(), with);
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
}

TEST_F(Undo, WhatCameWithANewJobStaysForIt) {
    storage::JobBundle bundle;
    bundle.job = finishedJob();
    bundle.vehicle = someVehicle();
    bundle.vehicle->id = {};
    bundle.vehicle->vin.clear();
    bundle.vehicle->plate = "NEW 1";
    bundle.vehicle->customer = customer.id;
    bundle.vehicle->family = family.id;
    const auto made = shop().jobs().save(bundle);
    ASSERT_OK(made);
    EXPECT_TRUE(undo().done);
    EXPECT_TRUE(stored(made->job).isVoid());
    EXPECT_OK(shop().vehicles().find(made->vehicle->id));
}

TEST_F(Undo, NeverTakesTheShopItselfBack) {
    const auto made = shop().changeLog().of("shop", storage::StoredSettings::kId.uuid);
    ASSERT_OK(made);
    ASSERT_FALSE(made->empty());
    shop().setWho({std::nullopt, made->back().who.station});
    EXPECT_FALSE(storage::undoOf(shop()).state()->undo.has_value());
}

// Where an edit ends and an import begins: 200 records, a convention of ours.
TEST_F(Undo, TakesBackTwoHundredRecordsOfOneSaveAndNotMore) {
    auto& session = shop().exchange().session();
    const auto addPeople = [&](int count) {
        return storage::inOneUnit(session, [&](storage::UnitOfWork&) -> core::Result<void> {
            for (int i = 0; i < count; ++i) {
                core::Staff person = someStaff();
                person.id = {};
                if (const auto saved = shop().staff().save(person); !saved)
                    return core::failureOf(saved);
            }
            return {};
        });
    };
    const std::size_t before = shop().staff().list()->size();
    ASSERT_OK(addPeople(200));
    ASSERT_EQ(shop().staff().list()->size(), before + 200);
    EXPECT_TRUE(undo().done);
    EXPECT_EQ(shop().staff().list()->size(), before);
    ASSERT_OK(addPeople(201));
    const auto state = storage::undoOf(shop()).state();
    ASSERT_OK(state);
    EXPECT_TRUE(!state->undo || state->undo->last - state->undo->first < 200) << "not the 201 at once";
}

TEST_F(Undo, WhatARuleForbidsIsRefusedAndNothingIsHalfDone) {
    core::Staff other = someStaff();
    other.id = {};
    other.name = "Otto Brandt";
    other = *shop().staff().save(other);
    const auto made = storage::undoOf(shop()).state()->undo;
    ASSERT_TRUE(made.has_value());
    // Somebody at another station gives the new person a job: they can no longer be taken back.
    const auto me = shop().who();
    shop().setWho({std::nullopt, "elsewhere"});
    core::Job job = finishedJob();
    job.technician = other.id;
    saved(job);
    shop().setWho(me);
    const auto head = shop().changeLog().head();
    EXPECT_FAILS(storage::undoOf(shop()).undo(kWhy), ErrorCode::InvalidInput);
    EXPECT_HOLDS(shop().changeLog().head(), *head);
}

TEST_F(Undo, RowsOfTwoSavesNeverShareAMoment) {
    // The clock of this test stands still.
    saved(finishedJob());
    saved(finishedJob(day(2031, 4, 10), 50'100));
    const auto all = shop().changeLog().newest(100);
    ASSERT_OK(all);
    const auto jobs = [&] {
        std::vector<core::Moment> moments;
        for (const auto& one : *all)
            if (one.table == "job")
                moments.push_back(one.at);
        return moments;
    }();
    ASSERT_EQ(jobs.size(), 2U);
    EXPECT_NE(jobs[0], jobs[1]);
}

} // namespace milehold::test
