// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-shop/catalogue.h"
#include "sample-shop/random.h"
#include "sample-shop/sample_shop.h"
#include "sample-shop/story.h"

#include <algorithm>
#include <iterator>
#include <unordered_map>

namespace milehold::sample {
namespace {

constexpr int kMostJobs = 2'000'000;

/// Vehicles that stand in the shop on the last day.
int inWorkOf(int jobs) {
    return std::clamp(jobs / 70, 1, 8);
}

template <class T> void append(std::vector<T>& to, std::vector<T>&& from) {
    to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

void numberJobs(SampleShop& shop, std::vector<LoggedJob>&& logged) {
    std::stable_sort(logged.begin(), logged.end(),
                     [](const LoggedJob& a, const LoggedJob& b) { return a.logged < b.logged; });
    shop.jobs.reserve(logged.size());
    std::int64_t number = 0;
    int year = 0;
    int inYear = 0;
    for (LoggedJob& entry : logged) {
        const int itsYear = static_cast<int>(dateOf(entry.logged).year());
        if (itsYear != year) {
            year = itsYear;
            inYear = 0;
        }
        entry.job.number = ++number;
        if (entry.job.kind != core::JobKind::Elsewhere) {
            std::string serial = std::to_string(++inYear);
            serial.insert(0, serial.size() < 4 ? 4 - serial.size() : 0, '0');
            entry.job.repairOrder = std::to_string(year % 100) + "-" + serial;
        }
        shop.jobs.push_back(std::move(entry.job));
    }
}

} // namespace

core::Result<SampleShop> generate(const SampleOptions& options) {
    if (options.jobs < 1 || options.jobs > kMostJobs)
        return core::fail(core::ErrorCode::InvalidInput,
                          "the number of jobs must be between 1 and 2,000,000");
    if (!options.endsOn.ok() || options.endsOn.year() < std::chrono::year{2001} ||
        options.endsOn.year() > std::chrono::year{2038})
        return core::fail(core::ErrorCode::InvalidInput,
                          "the last day must be a date in the years 2001 to 2038");

    Random shelfChance(streamSeed(options.seed, 0));
    Catalogue book = makeCatalogue(options.endsOn, shelfChance);
    SampleShop shop;
    shop.endsOn = options.endsOn;
    shop.truth.paths = book.paths;

    std::vector<LoggedJob> logged;
    int repairs = 0;
    int inWork = inWorkOf(options.jobs);
    for (std::uint64_t vehicle = 1; repairs < options.jobs; ++vehicle) {
        Random random(streamSeed(options.seed, vehicle));
        // A second vehicle of the same owner now and then, unless that owner wants to be left alone.
        const bool second =
            random.chance(0.06) && !shop.customers.empty() && !shop.customers.back().doNotCall;
        if (!second)
            shop.customers.push_back(makeCustomer(random));
        Story story = tellStory(book, options, shop.customers.back(), inWork-- > 0, random);
        repairs += story.repairs;
        shop.vehicles.push_back(std::move(story.vehicle));
        append(logged, std::move(story.jobs));
        append(shop.followUps, std::move(story.followUps));
        append(shop.odometers, std::move(story.odometers));
        append(shop.truth.lives, std::move(story.lives));
    }
    numberJobs(shop, std::move(logged));
    std::stable_sort(shop.followUps.begin(), shop.followUps.end(),
                     [](const core::FollowUp& a, const core::FollowUp& b) { return a.date < b.date; });
    std::stable_sort(
        shop.odometers.begin(), shop.odometers.end(),
        [](const core::OdometerReading& a, const core::OdometerReading& b) { return a.date < b.date; });
    shop.settings = std::move(book.settings);
    shop.staff = std::move(book.staff);
    shop.shelf = std::move(book.shelf);
    return shop;
}

std::vector<core::VehicleHistory> histories(const SampleShop& shop) {
    std::vector<core::VehicleHistory> result(shop.vehicles.size());
    std::unordered_map<core::VehicleId, std::size_t> ofVehicle;
    std::unordered_map<core::JobId, std::size_t> ofJob;
    std::unordered_map<core::CustomerId, const core::Customer*> customers;
    for (const core::Customer& customer : shop.customers)
        customers.emplace(customer.id, &customer);
    for (std::size_t i = 0; i < shop.vehicles.size(); ++i) {
        result[i].vehicle = shop.vehicles[i];
        ofVehicle.emplace(shop.vehicles[i].id, i);
        const auto customer =
            shop.vehicles[i].customer ? customers.find(*shop.vehicles[i].customer) : customers.end();
        result[i].doNotCall = customer != customers.end() && customer->second->doNotCall;
    }
    for (const core::Job& job : shop.jobs) {
        const std::size_t at = ofVehicle.at(job.vehicle);
        ofJob.emplace(job.id, at);
        result[at].jobs.push_back(job);
    }
    for (const core::FollowUp& row : shop.followUps)
        result[ofJob.at(row.job)].followUps.push_back(row);
    for (const core::OdometerReading& row : shop.odometers)
        result[ofVehicle.at(row.vehicle)].odometers.push_back(row);
    return result;
}

} // namespace milehold::sample
