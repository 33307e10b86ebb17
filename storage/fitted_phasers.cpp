// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/fitted_phasers.h"

#include "storage/database/sql_name.h"
#include "storage/database/statement.h"
#include "storage/exchange/exchange_store.h"
#include "storage/records/codec.h"
#include "storage/records/record_sql.h"
#include "storage/shop.h"

#include <algorithm>
#include <string>

namespace milehold::storage {

namespace {

constexpr std::size_t kJobsAtOnce = 50; ///< of one question, so that a server is not asked for each row

std::string question() {
    std::string keysSql;
    for (std::size_t i = 0; i < kJobsAtOnce; ++i)
        keysSql += (i == 0 ? ":job" : ", :job") + sqlNumber(static_cast<std::int64_t>(i));
    return "SELECT p.job_id, p.position FROM job_part p JOIN part_number n ON n.id = p.part_id "
           "WHERE p.job_id IN (" +
           keysSql + ") AND p.position IS NOT NULL AND n.component = 'phaser' ORDER BY p.job_id, p.place";
}

} // namespace

core::Result<std::unordered_map<core::JobId, std::vector<core::Position>>>
fittedPhasers(Shop& shop, std::span<const core::JobId> jobs) {
    std::unordered_map<core::JobId, std::vector<core::Position>> fitted;
    const std::string sql = question();
    for (std::size_t from = 0; from < jobs.size(); from += kJobsAtOnce) {
        Statement select(shop.exchange().session(), sql, "read the phasers of jobs");
        for (std::size_t i = 0; i < kJobsAtOnce; ++i) // the last one stands in for those that are missing
            select.bindId(":job" + std::to_string(i), jobs[std::min(from + i, jobs.size() - 1)].uuid);
        if (auto ran = select.run(); !ran)
            return core::failureOf(ran);
        while (true) {
            const auto more = select.next();
            if (!more)
                return core::failureOf(more);
            if (!*more)
                break;
            core::Position position;
            if (!decode(select.value(1), position))
                return unknownValue("job_part", "in a list");
            fitted[core::JobId{select.id(0)}].push_back(position);
        }
    }
    return fitted;
}

} // namespace milehold::storage
