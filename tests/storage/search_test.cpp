// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/make_id.h"
#include "storage/vehicle_store.h"
#include "tests/storage/support/shop_fixture.h"

#include <gmock/gmock.h>

namespace milehold::test {

using storage::FoundIn;

class Search : public EngineTest {
protected:
    void SetUp() override {
        EngineTest::SetUp();
        core::Customer second;
        second.name = "Jonas Björk";
        second.phones = {"0049 40 555 8123"};
        auto savedCustomer = shop().customers().save(second);
        ASSERT_OK(savedCustomer);
        other = someVehicle();
        other.vin = "11111111111111111"; // its own check digit
        other.modelYear = 2001;
        other.plate = "MÜ ab 77";
        other.customer = savedCustomer->id;
        auto savedVehicle = shop().vehicles().save(other);
        ASSERT_OK(savedVehicle);
        other = *savedVehicle;
    }
    std::vector<core::VehicleId> found(std::string_view text, std::size_t limit = 20) {
        const auto hits = shop().vehicles().search(text, limit);
        EXPECT_OK(hits);
        std::vector<core::VehicleId> ids;
        if (hits)
            for (const auto& hit : *hits)
                ids.push_back(hit.id);
        return ids;
    }
    FoundIn where(std::string_view text) { return shop().vehicles().search(text, 1)->at(0).foundIn; }
    using Ids = std::vector<core::VehicleId>;
    core::Vehicle other;
};

ON_BOTH_ENGINES(Search);

TEST_P(Search, FindsAVehicleByTheLastEightOfItsVin) {
    EXPECT_EQ(found("KP042788"), Ids{vehicle.id});
    EXPECT_EQ(found("kp04"), Ids{vehicle.id});
    EXPECT_EQ(where("KP042788"), FoundIn::Vin);
    EXPECT_EQ(found("0TK4RM27XKP042788"), Ids{vehicle.id});
    EXPECT_EQ(found("042788"), Ids{}) << "a prefix query, not a search inside";
}

TEST_P(Search, FindsAPlateHoweverItIsWritten) {
    EXPECT_EQ(found("ab12"), Ids{vehicle.id});
    EXPECT_EQ(found("AB-12 CD"), Ids{vehicle.id});
    EXPECT_EQ(found("mü-AB"), Ids{other.id});
    EXPECT_EQ(where("mü-AB"), FoundIn::Plate);
}

TEST_P(Search, FindsEachWordOfANameWithAndWithoutAccents) {
    EXPECT_EQ(found("ida"), Ids{vehicle.id});
    EXPECT_EQ(found("oros"), Ids{vehicle.id});
    EXPECT_EQ(found("BJÖRKM"), Ids{vehicle.id});
    EXPECT_THAT(found("bjork"), ::testing::UnorderedElementsAre(vehicle.id, other.id));
    EXPECT_EQ(found("bjork jon"), Ids{other.id});
    EXPECT_EQ(found("jonas ida"), Ids{});
    EXPECT_EQ(where("oros"), FoundIn::CustomerName);
}

TEST_P(Search, FindsAPhoneByItsBeginningOrItsEnd) {
    EXPECT_EQ(found("555-0199"), Ids{vehicle.id});
    EXPECT_EQ(found("+1 555 010"), Ids{vehicle.id});
    EXPECT_EQ(found("010 4477"), Ids{vehicle.id});
    EXPECT_EQ(found("+49 40 555"), Ids{other.id}) << "typed with +, stored with 00";
    EXPECT_EQ(where("555-0199"), FoundIn::Phone);
}

TEST_P(Search, FindsARepairOrderAndAJobNumber) {
    core::Job job = finishedJob();
    job.repairOrder = "R-7741";
    job = saved(job);
    EXPECT_EQ(found("r77"), Ids{vehicle.id});
    EXPECT_EQ(found(std::to_string(job.number)).front(), vehicle.id);
    EXPECT_EQ(where(std::to_string(job.number)), FoundIn::RepairOrder);
    EXPECT_EQ(where("r77"), FoundIn::RepairOrder);
}

TEST_P(Search, ShowsEachVehicleOnceWithItsLastJob) {
    saved(finishedJob(day(2031, 3, 1), 40'000));
    const core::Job last = saved(finishedJob(day(2031, 4, 1), 41'000));
    const core::Job voided = saved(finishedJob(day(2031, 4, 9), 42'000));
    ASSERT_OK(shop().jobs().voidJob(voided.id, voided.revision, "twice"));
    const auto hits = shop().vehicles().search("AB", 20); // plate and VIN characters alike
    ASSERT_OK(hits);
    ASSERT_EQ(hits->size(), 1U);
    const auto& hit = hits->front();
    EXPECT_EQ(hit.vin, vehicle.vin);
    EXPECT_EQ(hit.plate, vehicle.plate);
    EXPECT_EQ(hit.maker, vehicle.maker);
    EXPECT_EQ(hit.modelYear, vehicle.modelYear);
    EXPECT_EQ(hit.customer, customer.id);
    EXPECT_EQ(hit.customerName, customer.name);
    EXPECT_EQ(hit.phone, customer.phones[0]);
    EXPECT_EQ(hit.lastJobNumber, last.number);
    EXPECT_EQ(hit.lastJobOn, last.delivered);
}

TEST_P(Search, BlankTextListsTheVehiclesOfTheNewestJobs) {
    saved(finishedJob(day(2031, 3, 1), 40'000));
    core::Job job = finishedJob(day(2031, 4, 1), 41'000);
    job.vehicle = other.id;
    saved(job);
    EXPECT_EQ(found(""), (Ids{other.id, vehicle.id}));
    EXPECT_EQ(found(" ", 1), Ids{other.id});
}

TEST_P(Search, SignsOfTheQueryLanguageAreOrdinaryText) {
    EXPECT_EQ(found("%"), Ids{});
    EXPECT_EQ(found("'; DROP TABLE job; --"), Ids{});
    EXPECT_EQ(found("*"), Ids{});
    EXPECT_EQ(found("_"), Ids{});
}

TEST_P(Search, FindsAVehicleByItsWholeVinAsScanned) {
    EXPECT_HOLDS(shop().vehicles().findByVin(" i0tk4rm27xkp042788 "), std::optional(vehicle));
    EXPECT_HOLDS(shop().vehicles().findByVin(""), std::optional<core::Vehicle>());
    EXPECT_HOLDS(shop().vehicles().findByVin("0TK4RM27XKP04278"), std::optional<core::Vehicle>());
}

TEST_P(Search, FindsCustomersByNameAndPhone) {
    EXPECT_EQ(shop().customers().search("bjork", 10)->size(), 2U);
    EXPECT_EQ(shop().customers().search("bjork", 1)->size(), 1U);
    EXPECT_EQ(shop().customers().search("4477", 10)->size(), 0U)
        << "neither the beginning nor the last seven";
    EXPECT_EQ(shop().customers().search("0104477", 10)->at(0).id, customer.id);
}

} // namespace milehold::test
