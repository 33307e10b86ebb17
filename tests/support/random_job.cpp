// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/random_job.h"

#include <array>

namespace milehold::tests {
namespace {

using namespace std::chrono_literals;

core::Date dayOf(int offset) {
    return core::addDays(core::Date{2029y / 3 / 1}, offset);
}

} // namespace

core::Uuid uuidOf(std::uint8_t number) {
    core::Uuid uuid;
    uuid.bytes.fill(0x5a);
    uuid.bytes[15] = number;
    return uuid;
}

core::Job jobWithEverything(int seed) {
    const auto key = static_cast<std::uint8_t>(10 * seed);
    const std::string mark = " " + std::to_string(seed);
    core::Job job;
    job.id = idOf<core::JobId>(key);
    job.number = 400 + seed;
    job.repairOrder = "RO" + mark;
    job.kind = static_cast<core::JobKind>(seed % 3);
    job.vehicle = idOf<core::VehicleId>(key);
    job.path = idOf<core::RepairPathId>(key);
    job.writtenUp = dayOf(seed);
    job.started = dayOf(10 + seed);
    job.delivered = dayOf(20 + seed);
    job.odometerIn = core::Distance::miles(80'000 + seed);
    job.odometerOut = core::Distance::miles(81'000 + seed);
    job.firstSeen = core::Distance::miles(82'000 + seed);
    job.technician = idOf<core::StaffId>(key);
    job.advisor = idOf<core::StaffId>(static_cast<std::uint8_t>(key + 1));
    job.concernGroup = static_cast<core::ConcernGroup>(seed % 6);
    job.concern = "rattles when cold" + mark;
    job.cause = "lock pin" + mark;
    job.correction = "replaced" + mark;
    job.before = {8 + seed, 20 + seed};
    job.after = {9 + seed, seed};
    job.deliveryCheck = static_cast<core::DeliveryCheck>(seed % 3);
    job.oilLevel = static_cast<core::OilLevel>(seed % 4);
    job.oilCondition = static_cast<core::OilCondition>(seed % 4);
    job.oilGrade = "5W-30" + mark;
    job.oilPressureKpa = 100 + seed;
    job.calibrationBefore = "CB" + mark;
    job.calibrationAfter = "CA" + mark;
    job.lines = {"set the timing" + mark, "road test"};
    job.parts = {
        {idOf<core::PartNumberId>(key), core::Position{1, core::CamRole::Intake}, "L" + mark, seed, {100}}};
    job.codes = {{"P001" + std::to_string(seed), false}};
    job.hours = {600 + seed};
    job.partsPrice = {10'000 + seed};
    job.labourPrice = {20'000 + seed};
    job.sublet = {300 + seed};
    job.tax = {400 + seed};
    job.discount = {500 + seed};
    job.warrantyMonths = 12 + seed;
    job.warrantyDistance = core::Distance::miles(12'000 + seed);
    job.comebackOf = idOf<core::JobId>(static_cast<std::uint8_t>(key + 1));
    job.comebackDecision = static_cast<core::ComebackDecision>(seed % 7);
    job.decidedBy = idOf<core::StaffId>(static_cast<std::uint8_t>(key + 2));
    job.comebackCause = "heard again" + mark;
    job.payer = static_cast<core::Payer>(seed % 6);
    job.comebackCost = {600 + seed};
    job.claimNumber = "claim" + mark;
    job.claimDeadline = dayOf(30 + seed);
    job.comebackCosts = {{610 + seed}, {620 + seed}, {630 + seed}, {640 + seed}, {650 + seed}, {660 + seed}};
    job.claimState = static_cast<core::ClaimState>(seed % 6);
    job.claimAmount = core::Money{670 + seed};
    job.voidReason = "twice" + mark;
    job.revision = seed;
    return job;
}

core::Vehicle vehicleWithEverything(int seed) {
    const auto key = static_cast<std::uint8_t>(10 * seed);
    const std::string mark = " " + std::to_string(seed);
    return {idOf<core::VehicleId>(key),
            "VIN" + mark,
            "plate" + mark,
            "Ordway" + mark,
            "Lantern" + mark,
            2020 + seed,
            idOf<core::EngineFamilyId>(key),
            idOf<core::CustomerId>(key),
            "note" + mark,
            seed};
}

core::Customer customerWithEverything(int seed) {
    const std::string mark = " " + std::to_string(seed);
    return {idOf<core::CustomerId>(static_cast<std::uint8_t>(10 * seed)),
            "Ida Brandt" + mark,
            {"555 010" + std::to_string(seed)},
            {"ida" + std::to_string(seed) + "@example.org"},
            "evenings" + mark,
            seed % 2 == 1,
            "note" + mark,
            seed};
}

std::string RandomJobs::text() {
    static const std::array<std::string, 12> kTexts = {"",
                                                       "",
                                                       "cold start noise",
                                                       "  leading and trailing  ",
                                                       "two\nlines",
                                                       "tab\there",
                                                       "quote \" and ' and ;",
                                                       "Überholung ≥ 3 µm",
                                                       std::string(3000, 'x'),
                                                       "12/",
                                                       "0",
                                                       "\r\nodd ends\n"};
    return kTexts[static_cast<std::size_t>(below(static_cast<int>(kTexts.size())))];
}

core::Date RandomJobs::date() {
    if (below(12) == 0)
        return {1y / 1 / 1};
    return dayOf(below(3000) - 1500);
}

core::Distance RandomJobs::distance() {
    switch (below(6)) {
    case 0:
        return core::Distance::fromMetres(below(1'000'000'000)); // no whole number of either unit
    case 1:
        return core::Distance::fromMetres(-1234);
    case 2:
        return core::Distance::from(core::Distance::kMost, core::DistanceUnit::Miles);
    default:
        return core::Distance::miles(below(250'000));
    }
}

core::Money RandomJobs::money() {
    switch (below(5)) {
    case 0:
        return {};
    case 1:
        return {-500};
    case 2:
        return {9'000'000'000'000'000};
    default:
        return {below(500'000)};
    }
}

std::vector<std::string> RandomJobs::texts() {
    std::vector<std::string> result;
    for (int i = below(4); i > 0; --i)
        result.push_back(text());
    return result;
}

core::Job RandomJobs::job() {
    core::Job job = jobWithEverything(1 + below(5));
    const auto number = [this] { return maybe() ? std::optional(below(2000) - 10) : std::nullopt; };
    job.repairOrder = text();
    job.kind = static_cast<core::JobKind>(below(3));
    job.path = id<core::RepairPathId>();
    job.writtenUp = below(10) == 0 ? core::Date{} : date();
    job.started = maybe() ? std::optional(date()) : std::nullopt;
    job.delivered = maybe() ? std::optional(date()) : std::nullopt;
    job.odometerIn = maybe() ? std::optional(distance()) : std::nullopt;
    job.odometerOut = maybe() ? std::optional(distance()) : std::nullopt;
    job.firstSeen = maybe() ? std::optional(distance()) : std::nullopt;
    job.technician = id<core::StaffId>();
    job.advisor = id<core::StaffId>();
    job.concernGroup = static_cast<core::ConcernGroup>(below(6));
    job.concern = text();
    job.cause = text();
    job.correction = text();
    job.before = {number(), number()};
    job.after = {number(), number()};
    job.deliveryCheck = static_cast<core::DeliveryCheck>(below(3));
    job.oilLevel = static_cast<core::OilLevel>(below(4));
    job.oilCondition = static_cast<core::OilCondition>(below(4));
    job.oilGrade = text();
    job.oilPressureKpa = number();
    job.calibrationBefore = text();
    job.calibrationAfter = text();
    job.lines = texts();
    job.parts.clear();
    for (int i = below(5); i > 0; --i)
        job.parts.push_back({idOf<core::PartNumberId>(static_cast<std::uint8_t>(below(6))),
                             maybe() ? std::optional(core::Position{static_cast<std::uint8_t>(1 + below(3)),
                                                                    static_cast<core::CamRole>(below(3))})
                                     : std::nullopt,
                             text(), below(40) - 2, money()});
    job.codes.clear();
    for (int i = below(4); i > 0; --i)
        job.codes.push_back({maybe() ? "P0011" : text(), maybe()});
    job.hours = {below(3000) - 100};
    job.partsPrice = money();
    job.labourPrice = money();
    job.sublet = money();
    job.tax = money();
    job.discount = money();
    job.warrantyMonths = number();
    job.warrantyDistance = maybe() ? std::optional(distance()) : std::nullopt;
    job.comebackOf = id<core::JobId>();
    job.comebackDecision = static_cast<core::ComebackDecision>(below(7));
    job.decidedBy = id<core::StaffId>();
    job.comebackCause = text();
    job.payer = static_cast<core::Payer>(below(6));
    job.comebackCost = money();
    job.claimNumber = text();
    job.claimDeadline = maybe() ? std::optional(date()) : std::nullopt;
    job.comebackCosts = {money(), money(), money(), money(), money(), money()};
    job.claimState = static_cast<core::ClaimState>(below(6));
    job.claimAmount = maybe() ? std::optional(money()) : std::nullopt;
    job.voidReason = below(4) == 0 ? text() : std::string();
    return job;
}

core::Vehicle RandomJobs::vehicle() {
    core::Vehicle vehicle = vehicleWithEverything(1 + below(5));
    vehicle.vin = text();
    vehicle.plate = text();
    vehicle.maker = text();
    vehicle.model = text();
    vehicle.modelYear = maybe() ? std::optional(below(20'000) - 5000) : std::nullopt;
    vehicle.family = id<core::EngineFamilyId>();
    vehicle.note = text();
    return vehicle;
}

core::Customer RandomJobs::customer() {
    core::Customer customer = customerWithEverything(1 + below(5));
    customer.name = text();
    customer.phones = texts();
    customer.emails = texts();
    customer.bestTime = text();
    customer.doNotCall = maybe();
    customer.note = text();
    return customer;
}

} // namespace milehold::tests
