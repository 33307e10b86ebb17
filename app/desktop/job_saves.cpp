// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/job_saves.h"

#include "storage/shop.h"

namespace milehold::app {

core::Result<storage::JobBundle> saveBundle(storage::Shop& shop, storage::JobBundle bundle) {
    const storage::JobBundle wanted = bundle;
    auto saved = shop.jobs().save(std::move(bundle));
    if (saved || saved.error().code != core::ErrorCode::OutcomeUnknown)
        return saved;
    const auto found = shop.jobs().find(wanted.job.id);
    if (!found || found->revision != wanted.job.revision + 1)
        return saved;
    storage::JobBundle arrived = wanted;
    arrived.job = *found;
    if (wanted.vehicle)
        if (const auto vehicle = shop.vehicles().find(wanted.vehicle->id))
            arrived.vehicle = *vehicle;
    if (wanted.customer)
        if (const auto customer = shop.customers().find(wanted.customer->id))
            arrived.customer = *customer;
    return arrived;
}

} // namespace milehold::app
