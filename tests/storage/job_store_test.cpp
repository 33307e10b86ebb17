// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/job_store.h"
#include "storage/make_id.h"
#include "tests/storage/support/shop_fixture.h"

#include <gmock/gmock.h>

namespace milehold::test {

using core::Distance;
using core::ErrorCode;
using storage::JobBundle;
using storage::JobFilter;
using storage::JobScope;

class JobStore : public EngineTest {};

ON_BOTH_ENGINES(JobStore);

TEST_P(JobStore, SavesANewVehicleAndCustomerWithTheirFirstJobAsOne) {
    JobBundle bundle;
    bundle.customer = someCustomer();
    bundle.customer->id = {};
    bundle.vehicle = someVehicle();
    bundle.vehicle->id = {};
    bundle.vehicle->vin = "11111111111111111";
    bundle.vehicle->modelYear = 2001;
    bundle.vehicle->family = family.id;
    bundle.job = finishedJob();
    bundle.job.vehicle = {};
    auto saved = shop().jobs().save(bundle);
    ASSERT_OK(saved);
    EXPECT_FALSE(saved->customer->id.isNull());
    EXPECT_EQ(saved->vehicle->customer, saved->customer->id);
    EXPECT_EQ(saved->job.vehicle, saved->vehicle->id);
    EXPECT_EQ(saved->job.number, 1);
    EXPECT_HOLDS(shop().vehicles().find(saved->vehicle->id), *saved->vehicle);
    EXPECT_HOLDS(shop().customers().find(saved->customer->id), *saved->customer);
    EXPECT_HOLDS(shop().jobs().find(saved->job.id), saved->job);
}

TEST_P(JobStore, KeepsNothingOfABundleOfWhichOnePartIsRefused) {
    const auto head = shop().changeLog().head();
    JobBundle bundle;
    bundle.customer = customer;
    bundle.customer->note = "changed with the job";
    bundle.vehicle = vehicle;
    bundle.vehicle->plate = "ZZ 1";
    bundle.job = finishedJob();
    bundle.job.technician.reset();
    auto refused = shop().jobs().save(bundle);
    EXPECT_FAILS(refused, ErrorCode::InvalidInput);
    EXPECT_THAT(refused.error().detail, ::testing::HasSubstr("technician"));
    bundle.job = finishedJob();
    bundle.job.parts[0].part = storage::makeId<core::PartNumberId>(); // no such part
    EXPECT_FAILS(shop().jobs().save(bundle), ErrorCode::InvalidInput);
    EXPECT_HOLDS(shop().customers().find(customer.id), customer);
    EXPECT_HOLDS(shop().vehicles().find(vehicle.id), vehicle);
    EXPECT_HOLDS(shop().changeLog().head(), *head);
    EXPECT_EQ(saved(finishedJob()).number, 1) << "a refused save takes no number";
}

TEST_P(JobStore, ErrorDetailsHoldNoCustomerData) {
    JobBundle bundle;
    bundle.customer = customer;
    bundle.customer->emails = {"Canary Secret"};
    bundle.vehicle = vehicle;
    bundle.vehicle->vin = "CANARYVIN";
    bundle.job = finishedJob();
    bundle.job.concern = "Canary words";
    bundle.job.path.reset();
    const auto refused = shop().jobs().save(bundle);
    EXPECT_FAILS(refused, ErrorCode::InvalidInput);
    EXPECT_THAT(refused.error().detail, ::testing::Not(::testing::HasSubstr("anary")));
    core::Vehicle twin = someVehicle();
    twin.vin = vehicle.vin;
    const auto taken = shop().vehicles().save(twin);
    EXPECT_FAILS(taken, ErrorCode::InvalidInput);
    EXPECT_THAT(taken.error().detail, ::testing::ContainsRegex("vehicle[._]vin"));
    EXPECT_THAT(taken.error().detail, ::testing::Not(::testing::HasSubstr(vehicle.vin)));
}

TEST_P(JobStore, CheckSaysWhatSaveWillRefuse) {
    JobBundle bundle;
    bundle.vehicle = vehicle;
    bundle.vehicle->vin = "TOO SHORT";
    bundle.job = finishedJob();
    bundle.job.delivered = day(2031, 4, 1); // before the write-up
    const auto found = shop().jobs().check(bundle);
    ASSERT_OK(found);
    EXPECT_THAT(*found, ::testing::Contains(::testing::Field(&core::Finding::field, "vehicle.vin")));
    EXPECT_THAT(*found, ::testing::Contains(::testing::Field(&core::Finding::field, "delivered")));
}

TEST_P(JobStore, GivesNumbersFromOneCounterWithoutGaps) {
    for (std::int64_t number = 1; number <= 5; ++number)
        EXPECT_EQ(saved(finishedJob(day(2031, 4, 9), 50'000 + 10 * number)).number, number);
    core::Job brought = finishedJob(day(2031, 4, 9), 51'000);
    brought.number = 90; // as an import brings it along
    EXPECT_EQ(saved(brought).number, 90);
    EXPECT_EQ(saved(finishedJob(day(2031, 4, 9), 51'100)).number, 91);
    core::Job older = finishedJob(day(2031, 4, 9), 51'200);
    older.number = 40;
    EXPECT_EQ(saved(older).number, 40);
    EXPECT_EQ(saved(finishedJob(day(2031, 4, 9), 51'300)).number, 92);
    core::Job taken = finishedJob(day(2031, 4, 9), 51'400);
    taken.number = 40;
    EXPECT_FAILS(shop().jobs().save({taken, {}, {}}), ErrorCode::InvalidInput);
}

TEST_P(JobStore, KeepsTheOdometerReadingsOfAJobInStep) {
    core::Job job = saved(finishedJob());
    EXPECT_EQ(rowsIn("odometer"), 2);
    job.odometerOut = Distance::miles(50'009);
    job = saved(job);
    EXPECT_EQ(rowsIn("odometer"), 2);
    EXPECT_TRUE(shop().verify(storage::CheckDepth::Full)->sound());
    const auto history = shop().vehicles().history(vehicle.id);
    ASSERT_OK(history);
    EXPECT_TRUE(history->odometers.empty()) << "what a job says stands in the job, not twice";
    auto voided = shop().jobs().voidJob(job.id, job.revision, "typed on the wrong vehicle");
    ASSERT_OK(voided);
    EXPECT_EQ(rowsIn("odometer"), 0);
    auto back = shop().jobs().unvoidJob(job.id, voided->revision);
    ASSERT_OK(back);
    EXPECT_EQ(rowsIn("odometer"), 2);
}

TEST_P(JobStore, ADeliveredJobIsVoidedWithAReasonAndNeverRemoved) {
    const core::Job job = saved(finishedJob());
    EXPECT_FAILS(shop().jobs().remove(job.id, job.revision), ErrorCode::InvalidInput);
    EXPECT_FAILS(shop().jobs().voidJob(job.id, job.revision, " \t"), ErrorCode::InvalidInput);
    EXPECT_FAILS(shop().jobs().voidJob(job.id, job.revision + 1, "twice"), ErrorCode::Conflict);
    const auto voided = shop().jobs().voidJob(job.id, job.revision, "entered twice");
    ASSERT_OK(voided);
    EXPECT_TRUE(voided->isVoid());
    EXPECT_TRUE(shop().lives().records(day(2031, 5, 1))->empty());
    EXPECT_EQ(shop().changeLog().of("job", job.id.uuid)->front().action, storage::ChangeAction::Update);
}

TEST_P(JobStore, AJobInWorkCanBeRemoved) {
    core::Job job = finishedJob();
    job.delivered.reset();
    job.odometerOut.reset();
    job = saved(job);
    ASSERT_OK(shop().jobs().remove(job.id, job.revision));
    EXPECT_FAILS(shop().jobs().find(job.id), ErrorCode::NotFound);
    EXPECT_EQ(rowsIn("odometer"), 0);
    EXPECT_EQ(rowsIn("job_part"), 0);
    const auto log = shop().changeLog().of("job", job.id.uuid);
    ASSERT_OK(log);
    EXPECT_EQ(log->front().action, storage::ChangeAction::Delete);
}

TEST_P(JobStore, RowsShowANewestFirstListByEveryFilter) {
    core::Job first = finishedJob(day(2031, 1, 9), 40'000);
    first.repairOrder = "RO 17-B";
    first.partsPrice = {100};
    first.labourPrice = {250};
    first.discount = {50};
    first = saved(first);
    core::Job second = finishedJob(day(2031, 2, 9), 41'000);
    second.delivered.reset();
    second.odometerOut.reset();
    second.path.reset();
    second = saved(second);
    core::Job third = saved(finishedJob(day(2031, 3, 9), 42'000));
    ASSERT_OK(shop().jobs().voidJob(third.id, third.revision, "twice"));

    const auto numbers = [&](const JobFilter& filter) {
        std::vector<std::int64_t> found;
        const auto rows = shop().jobs().rows(filter);
        EXPECT_OK(rows);
        if (rows)
            for (const auto& row : *rows)
                found.push_back(row.number);
        return found;
    };
    using Numbers = std::vector<std::int64_t>;
    EXPECT_EQ(numbers({}), (Numbers{3, 2, 1}));
    EXPECT_EQ(numbers({.limit = 2}), (Numbers{3, 2}));
    EXPECT_EQ(numbers({.scope = JobScope::InWork}), (Numbers{2}));
    EXPECT_EQ(numbers({.scope = JobScope::Delivered}), (Numbers{1}));
    EXPECT_EQ(numbers({.scope = JobScope::Void}), (Numbers{3}));
    EXPECT_EQ(numbers({.path = path.id}), (Numbers{3, 1}));
    EXPECT_EQ(numbers({.technician = storage::makeId<core::StaffId>()}), (Numbers{}));
    EXPECT_EQ(numbers({.vehicle = vehicle.id}), (Numbers{3, 2, 1}));
    EXPECT_EQ(numbers({.ids = {first.id, third.id}}), (Numbers{3, 1}));
    EXPECT_EQ(numbers({.text = "ro17", .scope = JobScope::Delivered}), (Numbers{1}));
    EXPECT_EQ(numbers({.text = "bjorkmann", .limit = 1}), (Numbers{3}));
    EXPECT_EQ(numbers({.text = "nobody"}), (Numbers{}));
    EXPECT_EQ(numbers({.text = "  "}), (Numbers{3, 2, 1}));

    const auto rows = shop().jobs().rows({.ids = {first.id}});
    ASSERT_OK(rows);
    ASSERT_EQ(rows->size(), 1U);
    const auto& row = rows->front();
    EXPECT_EQ(row.repairOrder, "RO 17-B");
    EXPECT_EQ(row.customerName, customer.name);
    EXPECT_EQ(row.pathName, path.name);
    EXPECT_EQ(row.technicianName, technician.name);
    EXPECT_EQ(row.delivered, day(2031, 1, 9));
    EXPECT_EQ(row.odometerOut, Distance::miles(40'004));
    EXPECT_EQ(row.total, core::Money{300});
    EXPECT_EQ(row.revision, first.revision);
    EXPECT_FALSE(row.voided);
}

TEST_P(JobStore, AnOdometerMayFallAtDeliveryOnlyWhereAnInstrumentWasReplaced) {
    core::Job job = finishedJob(day(2031, 4, 9), 90'000);
    job.odometerOut = Distance::miles(12);
    EXPECT_FAILS(shop().jobs().save({job, {}, {}}), ErrorCode::InvalidInput);
    core::OdometerReading replaced;
    replaced.vehicle = vehicle.id;
    replaced.date = day(2031, 4, 9);
    replaced.shown = Distance::miles(10);
    replaced.resetOffset = Distance::miles(89'991);
    ASSERT_OK(shop().vehicles().saveOdometer(replaced));
    EXPECT_OK(shop().jobs().save({job, {}, {}}));
}

TEST_P(JobStore, TellsWhatACommitHasChanged) {
    std::vector<storage::ChangeNotice> heard;
    shop().onChange([&](const auto& notices) { heard.insert(heard.end(), notices.begin(), notices.end()); });
    const core::Job job = saved(finishedJob());
    EXPECT_THAT(heard, ::testing::Contains(storage::ChangeNotice{"job", job.id.uuid}));
    heard.clear();
    core::Job refused = finishedJob(day(2030, 1, 1), 99'000);
    EXPECT_FALSE(shop().jobs().save({refused, {}, {}}).has_value());
    EXPECT_TRUE(heard.empty());
}

TEST_P(JobStore, ManySavesTogetherAreOneCommitOrNone) {
    int commits = 0;
    shop().onChange([&](const auto&) { ++commits; });
    ASSERT_OK(shop().together([&]() -> core::Result<void> {
        for (int i = 0; i < 10; ++i)
            saved(finishedJob(day(2031, 4, 9), 50'000 + 10 * i));
        return {};
    }));
    EXPECT_EQ(commits, 1);
    EXPECT_EQ(shop().jobs().rows({})->size(), 10U);
    EXPECT_FALSE(shop()
                     .together([&]() -> core::Result<void> {
                         saved(finishedJob(day(2031, 4, 10), 60'000));
                         return core::fail(ErrorCode::InvalidInput, "the caller changed its mind");
                     })
                     .has_value());
    EXPECT_EQ(shop().jobs().rows({})->size(), 10U);
    // A refused save in the middle takes the others with it, even where the caller goes on.
    EXPECT_FALSE(shop()
                     .together([&]() -> core::Result<void> {
                         saved(finishedJob(day(2031, 4, 10), 60'000));
                         EXPECT_FALSE(shop().jobs().save({core::Job{}, {}, {}}).has_value());
                         return {};
                     })
                     .has_value());
    EXPECT_EQ(shop().jobs().rows({})->size(), 10U);
    EXPECT_EQ(saved(finishedJob(day(2031, 4, 10), 60'000)).number, 11);
}

} // namespace milehold::test
