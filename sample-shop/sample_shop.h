// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/result.h"
#include "core/shop/people.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"
#include "sample-shop/truth.h"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace milehold::storage {
class Shop;
}

namespace milehold::sample {

/// How well the invented shop follows its repairs up.
enum class FollowUpHabit : std::uint8_t {
    Typical, ///< calls now and then since the second year, visits, lost and sold vehicles: the book to look
             ///< at
    OnlyUnhappy, ///< nobody is ever called and nobody comes in but with noise: the bias that a shop lives
                 ///< with
    Everybody,   ///< every vehicle is followed to the end and every comeback is known to the mile
};

struct SampleOptions {
    int jobs = 400; ///< at least so many timing repairs; visits for anything else come on top
    std::uint64_t seed = 1;
    core::Date endsOn = core::Date{std::chrono::year{2031}, std::chrono::May, std::chrono::day{16}};
    FollowUpHabit habit = FollowUpHabit::Typical;
};

/// An invented shop's whole book as plain values; every list in the order in which it would have been
/// written.
struct SampleShop {
    core::ShopSettings settings;
    std::vector<core::Staff> staff;
    core::Shelf shelf;
    std::vector<core::Customer> customers;
    std::vector<core::Vehicle> vehicles;
    std::vector<core::Job> jobs; ///< numbered from 1 in the order of the list
    std::vector<core::FollowUp> followUps;
    std::vector<core::OdometerReading> odometers; ///< typed ones only: what jobs and calls bring stands there
    core::Date endsOn{};
    Truth truth;
};

/// Invents a shop. The same options give the same shop, to the byte of every id.
/// Errors: InvalidInput for jobs outside 1 to 2,000,000 or a date that is none or before the year 2001.
core::Result<SampleShop> generate(const SampleOptions& options);

/// The book vehicle by vehicle, with the odometer readings that jobs and calls bring, as a store hands it
/// out.
std::vector<core::VehicleHistory> histories(const SampleShop& shop);

/// Called with records written so far and in all, now and then.
using Progress = std::function<void(std::size_t done, std::size_t all)>;

/// Writes the sample into an open, empty shop through its stores, so that every rule and the change log hold,
/// as one unit of work. Errors: those of the stores; then nothing was written.
core::Result<void> write(const SampleShop& sample, storage::Shop& shop, const Progress& progress = {});

/// The lives of the sample as a lives table (RFC 4180) in the sample's unit, known reading: the columns of
/// the contract (`miles`, `end`, `until`, `entry`, `group` = path, `vehicle`), then the factors `family`,
/// `revision`, `calibration`, `oil`, and the truth: `true_miles`, and `true_shape`, `true_scale`,
/// `true_never_held`.
core::Result<std::string> livesTable(const SampleShop& sample);

} // namespace milehold::sample
