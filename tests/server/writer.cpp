// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/server/writer.h"

#include "storage/make_id.h"
#include "storage/offline.h"
#include "storage/server/server_shop.h"
#include "storage/shop.h"
#include "tests/storage/support/shop_fixture.h"

#include <chrono>
#include <cstdio>
#include <thread>

namespace milehold::test {

using core::Distance;
using core::ErrorCode;
using namespace std::chrono_literals;

namespace {

struct Parts {
    core::EngineFamilyId family;
    core::RepairPathId path;
    core::StaffId technician;
    core::CustomerId customer;
};

void say(const std::string& line) {
    std::fputs((line + "\n").c_str(), stdout);
    std::fflush(stdout);
}

void report(const core::Error& error) {
    if (storage::isOffline(error)) {
        std::this_thread::sleep_for(50ms);
        return;
    }
    say("error " + std::to_string(static_cast<int>(error.code)) + " " + error.detail);
}

core::Result<Parts> partsOf(storage::Shop& shop) {
    const auto shelf = shop.shelf().load();
    if (!shelf)
        return core::failureOf(shelf);
    const auto staff = shop.staff().list();
    if (!staff)
        return core::failureOf(staff);
    const auto customers = shop.customers().search("ida", 1);
    if (!customers)
        return core::failureOf(customers);
    return Parts{shelf->families.at(0).id, shelf->paths.at(0).id, staff->at(0).id, customers->at(0).id};
}

void addWord(storage::Shop& shop, core::CustomerId id) {
    for (int attempt = 0; attempt < 200; ++attempt) {
        auto customer = shop.customers().find(id);
        if (!customer)
            return report(customer.error());
        customer->note += "x";
        const auto saved = shop.customers().save(*customer);
        if (saved)
            return say("word");
        if (saved.error().code != ErrorCode::Conflict)
            return report(saved.error());
        say("conflict");
    }
}

storage::JobBundle jobOf(const Parts& parts, core::Vehicle vehicle, int place, int mark) {
    storage::JobBundle bundle;
    if (vehicle.revision == 0)
        bundle.vehicle = vehicle;
    core::Job& job = bundle.job;
    job.id = storage::makeId<core::JobId>();
    job.vehicle = vehicle.id;
    job.path = parts.path;
    job.writtenUp = job.delivered.emplace(day(2031, 4, 9));
    job.odometerIn = Distance::miles(50'000 + 10 * place);
    job.odometerOut = Distance::miles(50'001 + 10 * place);
    job.technician = parts.technician;
    job.repairOrder = "S" + std::to_string(mark);
    job.lines = {"Drain oil", "Set timing"};
    job.codes = {{"P0011", false}};
    return bundle;
}

} // namespace

int writeToServer(const char* address, int jobs, int mark) {
    auto shop = storage::Shop::open(address);
    if (!shop) {
        report(shop.error());
        say("error 0 " + shop.error().detail);
        return 3;
    }
    (*shop)->setWho({std::nullopt, "station " + std::to_string(mark)});
    const auto parts = partsOf(**shop);
    if (!parts)
        return 4;
    say("ready");
    core::Vehicle vehicle;
    for (int i = 0; jobs == 0 || i < jobs; ++i) {
        const int place = i % 5;
        if (place == 0 || vehicle.revision == 0) {
            vehicle = core::Vehicle{};
            vehicle.id = storage::makeId<core::VehicleId>();
            vehicle.maker = "Hollin";
            vehicle.family = parts->family;
        }
        const auto bundle = jobOf(*parts, vehicle, place, mark);
        const std::string id = core::toString(bundle.job.id.uuid);
        say("try " + id);
        const auto begun = std::chrono::steady_clock::now();
        const auto saved = (*shop)->jobs().save(bundle);
        const auto took = std::chrono::steady_clock::now() - begun;
        if (saved) {
            say("ok " + id + " " +
                std::to_string(std::chrono::duration_cast<std::chrono::milliseconds>(took).count()));
            vehicle.revision = 1;
        } else if (saved.error().code == ErrorCode::OutcomeUnknown) {
            say("unknown " + id);
            vehicle.revision = 0;
        } else {
            say("no " + id);
            report(saved.error());
        }
        if (place == 4)
            addWord(**shop, parts->customer);
    }
    return (*shop)->close() ? 0 : 5;
}

int watchServer(const char* address) {
    auto shop = storage::Shop::open(address);
    if (!shop) {
        say("error 0 " + shop.error().detail);
        return 3;
    }
    say("ready");
    while (true) {
        say("asks");
        const auto begun = std::chrono::steady_clock::now();
        const bool answers = storage::reachServer(**shop).has_value();
        const auto took = std::chrono::steady_clock::now() - begun;
        say((answers ? "online " : "offline ") +
            std::to_string(std::chrono::duration_cast<std::chrono::milliseconds>(took).count()));
        std::this_thread::sleep_for(250ms);
    }
}

} // namespace milehold::test
