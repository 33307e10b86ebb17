// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"
#include "core/shop/people.h"
#include "core/shop/vehicle.h"

#include <optional>

namespace milehold::ui {

/// What one job sheet holds: the job, its vehicle, and the vehicle's customer when one is known.
struct JobCard {
    core::Job job;
    core::Vehicle vehicle;
    std::optional<core::Customer> customer;
    friend bool operator==(const JobCard&, const JobCard&) = default;
};

} // namespace milehold::ui
