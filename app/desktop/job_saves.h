// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/job_store.h"

namespace milehold::storage {
class Shop;
}

namespace milehold::app {

/// Saves a bundle. A save that was cut off is looked up by its key before anybody is told: when it arrived,
/// it counts as saved. Runs on the database's thread.
core::Result<storage::JobBundle> saveBundle(storage::Shop& shop, storage::JobBundle bundle);

} // namespace milehold::app
