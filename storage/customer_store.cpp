// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/customer_store.h"

#include "core/shop/validation.h"
#include "storage/records/repository.h"
#include "storage/records/search.h"

namespace milehold::storage {

core::Result<core::Customer> CustomerStore::find(core::CustomerId id) const {
    return findRecord<core::Customer>(session_, id.uuid);
}

core::Result<std::vector<core::Customer>>
CustomerStore::find(const std::vector<core::CustomerId>& ids) const {
    std::vector<core::Customer> found;
    found.reserve(ids.size());
    for (const auto& id : ids) {
        auto one = find(id);
        if (!one)
            return core::failureOf(one);
        found.push_back(std::move(*one));
    }
    return found;
}

core::Result<std::vector<core::Customer>> CustomerStore::search(std::string_view text,
                                                                std::size_t limit) const {
    auto ids = searchCustomers(session_, text, limit);
    if (!ids)
        return core::failureOf(ids);
    return find(*ids);
}

core::Result<core::Customer> CustomerStore::save(core::Customer customer) {
    if (auto allowed = refuseErrors("customer", core::validate(customer)); !allowed)
        return core::failureOf(allowed);
    return inOneUnit(session_, [&](UnitOfWork& unit) { return saveRecord(unit, session_, customer); });
}

core::Result<void> CustomerStore::remove(core::CustomerId id, std::int64_t revision) {
    return inOneUnit(session_, [&](UnitOfWork& unit) {
        return removeRecord<core::Customer>(unit, session_, id.uuid, revision);
    });
}

} // namespace milehold::storage
