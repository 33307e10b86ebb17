// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/claim_store.h"

#include "storage/database/statement.h"
#include "storage/exchange/exchange_store.h"
#include "storage/records/repository.h"
#include "storage/shop.h"

namespace milehold::storage {

ClaimStore::ClaimStore(Shop& shop) : session_(shop.exchange().session()) {}

core::Result<std::vector<core::Job>> ClaimStore::all() const {
    return readWhere<core::Job>(session_,
                                "WHERE claim_state <> 'none' AND void_reason = '' "
                                "ORDER BY coalesce(claim_deadline, '9999'), number",
                                [](Statement&) {});
}

core::Result<int> ClaimStore::dueBy(core::Date day) const {
    Statement count(session_,
                    "SELECT count(*) FROM job WHERE claim_state = 'to-file' AND claim_deadline <= :day "
                    "AND void_reason = ''",
                    "count claims that are due");
    count.bindText(":day", core::toIso(day));
    if (auto ran = count.run(); !ran)
        return core::failureOf(ran);
    const auto row = count.next();
    if (!row)
        return core::failureOf(row);
    return *row ? static_cast<int>(count.integer(0)) : 0;
}

} // namespace milehold::storage
