// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/recent_calls.h"

#include "storage/exchange/exchange_store.h"
#include "storage/records/repository.h"
#include "storage/shop.h"

namespace milehold::storage {

core::Result<std::vector<core::FollowUp>> recentCalls(Shop& shop, std::size_t most) {
    return readWhere<core::FollowUp>(
        shop.exchange().session(), "ORDER BY date DESC, rowid DESC LIMIT :most",
        [&](Statement& select) { select.bindInt(":most", static_cast<std::int64_t>(most)); });
}

} // namespace milehold::storage
