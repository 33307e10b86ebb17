// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "sample-shop/driving.h"
#include "sample-shop/sample_shop.h"

#include <optional>
#include <vector>

namespace milehold::sample {

/// A job with the day on which somebody wrote it into the book.
struct LoggedJob {
    core::Job job;
    Day logged = 0;
};

/// All that happens to one vehicle of the sample.
struct Story {
    core::Vehicle vehicle;
    std::vector<LoggedJob> jobs; ///< in the order in which they were written down
    std::vector<core::FollowUp> followUps;
    std::vector<core::OdometerReading> odometers;
    std::vector<LifeTruth> lives;
    int repairs = 0; ///< timing repairs among the jobs
};

/// Invents one vehicle's story from its own stream of chance. `customer` is marked when they ask not to be
/// called. `inWork`: the vehicle stands in the shop on the last day.
Story tellStory(const Catalogue& book, const SampleOptions& options, core::Customer& customer, bool inWork,
                Random& random);

/// A customer with names, phones and habits.
core::Customer makeCustomer(Random& random);

/// A vehicle of one of the families; the VIN's check digit is right and its maker's code is given to nobody.
core::Vehicle makeVehicle(const FamilyKit& family, int modelYear, core::CustomerId customer, Random& random);

} // namespace milehold::sample
