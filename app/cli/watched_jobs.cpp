// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/watched_jobs.h"

#include "app/cli/shop_records.h"
#include "core/report/owner_review.h"

#include <algorithm>
#include <chrono>
#include <cmath>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

constexpr const char* kEnteredColumn = "entered";
constexpr const char* kDaysColumn = "days";

Result<std::vector<double>> numbersOf(const storage::FactorColumn& column) {
    const auto levels = column.numbers();
    if (!levels)
        return core::fail(ErrorCode::InvalidInput,
                          "column " + column.name + ": not every cell is a number; expected days");
    std::vector<double> numbers;
    numbers.reserve(column.level.size());
    for (const std::uint32_t level : column.level)
        numbers.push_back((*levels)[level]);
    return numbers;
}

Result<WatchedBook> bookOfTable(Session& session, const LivesInput& input) {
    storage::LivesTableOptions reading;
    reading.factors = {kEnteredColumn};
    reading.ifThere = {kDaysColumn};
    const auto table = readLives(session, input, reading);
    if (!table)
        return core::failureOf(table);
    const auto entered = numbersOf(table->factors[0]);
    if (!entered)
        return core::failureOf(entered);
    const core::Lives& lives = table->lives;
    const auto days =
        table->factors.size() > 1 ? numbersOf(table->factors[1]) : Result<std::vector<double>>(lives.miles);
    if (!days)
        return core::failureOf(days);
    if (std::any_of(days->begin(), days->end(), [](double day) { return day < 0; }))
        return core::fail(ErrorCode::InvalidInput, std::string("column ") + kDaysColumn +
                                                       ": a cell is negative; expected days of watch");
    if (!lives.weight.empty())
        return core::fail(ErrorCode::InvalidInput,
                          "column weight: a running sum takes jobs one by one; expected no weights");
    WatchedBook book;
    for (const std::string& name : lives.groupNames)
        book.groups.push_back({name, {}});
    book.lastDay = book.lastEntry = -HUGE_VAL;
    for (std::size_t i = 0; i < lives.size(); ++i) {
        if (lives.entryOf(i) > 0)
            continue;
        const double enters = (*entered)[i], leaves = enters + (*days)[i];
        if (!(leaves - enters == (*days)[i]))
            return core::fail(ErrorCode::InvalidInput, std::string("column ") + kEnteredColumn +
                                                           ": a cell is too large to count days from");
        book.groups[lives.groupOf(i)].jobs.push_back({enters, leaves, lives.cameBack(i)});
        book.lastEntry = std::max(book.lastEntry, enters);
        book.lastDay = std::max(book.lastDay, leaves);
    }
    std::erase_if(book.groups, [](const WatchedGroup& group) { return group.jobs.empty(); });
    if (book.groups.empty())
        return core::fail(ErrorCode::NotEstimable,
                          storage::nameOfSource(input.csv) + ": no job was watched from its delivery on");
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
        book.dayZero = core::Date(std::chrono::sys_days());
        book.lastDay = static_cast<double>(core::daysBetween(*book.dayZero, records->today));
        book.lastEntry = -HUGE_VAL;
        for (const auto& [name, members] : *groups) {
            WatchedGroup group{name, {}};
            for (const std::size_t i : members) {
                const core::Life& life = records->lives[i].life;
                if (!core::isWatchedFromDelivery(life))
                    continue;
                group.jobs.push_back(core::watchedJob(life));
                book.lastEntry = std::max(book.lastEntry, group.jobs.back().enters);
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
