// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/watched_jobs.h"

#include "app/cli/shop_records.h"

#include <cmath>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

constexpr const char* kEnteredColumn = "entered";

Result<WatchedBook> bookOfTable(Session& session, const LivesInput& input) {
    storage::LivesTableOptions reading;
    reading.factors = {kEnteredColumn};
    const auto table = readLives(session, input, reading);
    if (!table)
        return core::failureOf(table);
    const auto days = table->factors[0].numbers();
    if (!days)
        return core::fail(ErrorCode::InvalidInput, std::string("column ") + kEnteredColumn +
                                                       ": not every cell is a number; expected days");
    const core::Lives& lives = table->lives;
    if (!lives.weight.empty())
        return core::fail(ErrorCode::InvalidInput,
                          "column weight: a running sum takes jobs one by one; expected no weights");
    WatchedBook book;
    for (const std::string& name : lives.groupNames)
        book.groups.push_back({name, {}});
    for (std::size_t i = 0; i < lives.size(); ++i) {
        const double enters = (*days)[table->factors[0].level[i]];
        book.groups[lives.groupOf(i)].jobs.push_back({enters, enters + lives.miles[i], lives.cameBack(i)});
    }
    return book;
}

Result<WatchedBook> bookOfShop(const LivesInput& input) {
    WatchedBook book;
    const auto done = withShop(input.shop, [&](storage::Shop& shop) -> Result<void> {
        const auto records = readShopRecords(shop, input.shop);
        if (!records)
            return core::failureOf(records);
        const auto groups = groupsBy(*records, input.by);
        if (!groups)
            return core::failureOf(groups);
        for (const core::LifeRecord& record : records->lives)
            if (!book.dayZero || record.life.repairedOn < *book.dayZero)
                book.dayZero = record.life.repairedOn;
        for (const auto& [name, members] : *groups) {
            WatchedGroup group{name, {}};
            for (const std::size_t i : members) {
                const core::Life& life = records->lives[i].life;
                if (!life.contributes || life.entry > core::Distance())
                    continue;
                const auto enters = static_cast<double>(core::daysBetween(*book.dayZero, life.repairedOn));
                const auto leaves = static_cast<double>(core::daysBetween(*book.dayZero, life.lastKnownOn));
                group.jobs.push_back({enters, std::max(enters, leaves), life.cameBack()});
            }
            if (!group.jobs.empty())
                book.groups.push_back(std::move(group));
        }
        return {};
    });
    if (!done)
        return core::failureOf(done);
    if (book.groups.empty())
        return core::fail(ErrorCode::NotEstimable,
                          input.shop.folder + ": the shop has no finished repair yet");
    return book;
}

} // namespace

std::string WatchedBook::dateOf(double day) const {
    return core::toIso(core::addDays(*dayZero, static_cast<std::int64_t>(std::llround(day))));
}

Result<WatchedBook> readWatchedBook(Session& session, const LivesInput& input) {
    const bool ofShop = !input.shop.folder.empty() && input.csv.empty();
    return ofShop ? bookOfShop(input) : bookOfTable(session, input);
}

} // namespace milehold::cli
