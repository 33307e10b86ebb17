// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/office_lives.h"

#include <algorithm>
#include <limits>
#include <numeric>
#include <optional>
#include <utility>

namespace milehold::app {

namespace {

constexpr std::int32_t kNoYear = std::numeric_limits<std::int32_t>::min();

std::int32_t daysOf(core::Date date) {
    return static_cast<std::int32_t>(std::chrono::sys_days(date).time_since_epoch().count());
}

/// The number of a value that is asked for; one that no life has where none has it.
template <class Keys, class Id> std::uint32_t numberOf(const Keys& keys, const Id& id) {
    const auto found = keys.numbers.find(id);
    return found == keys.numbers.end() ? std::numeric_limits<std::uint32_t>::max() : found->second;
}

} // namespace

OfficeLives::OfficeLives(std::span<const core::LifeRecord> records, std::shared_ptr<const void> owner,
                         std::shared_ptr<const core::Shelf> shelf, std::vector<core::Staff> staff)
    : records_(records), owner_(std::move(owner)), shelf_(std::move(shelf)), staff_(std::move(staff)) {}

const OfficeLives::Columns& OfficeLives::columns() const {
    std::call_once(columnsOnce_, [this] {
        Columns& made = columns_;
        made.marks.reserve(size());
        made.jobs.reserve(size());
        made.year.reserve(size());
        made.delivered.reserve(size());
        made.family.of.reserve(size());
        made.path.of.reserve(size());
        made.technician.of.reserve(size());
        for (const core::LifeRecord& record : records_) {
            made.marks.push_back(core::markOf(record.life));
            made.jobs.push_back(record.life.job);
            made.year.push_back(record.modelYear.value_or(kNoYear));
            made.delivered.push_back(daysOf(record.life.repairedOn));
            made.family.add(record.family);
            made.path.add(record.life.path);
            made.technician.add(record.technician);
        }
    });
    return columns_;
}

std::vector<std::uint32_t> OfficeLives::rowsPassing(const ui::OfficeQuery& query) const {
    const Columns& columns = this->columns();
    std::vector<std::uint32_t> rows(size());
    std::iota(rows.begin(), rows.end(), std::uint32_t{0});
    // One filter after the other, each over the rows that are left; written before it is known whether a row
    // stays, as that is not to be guessed.
    const auto keep = [&rows](auto holds) {
        std::size_t kept = 0;
        for (const std::uint32_t row : rows) {
            rows[kept] = row;
            kept += holds(row) ? 1 : 0;
        }
        rows.resize(kept);
    };
    const auto keepKey = [&](const auto& keys, const auto& wanted) {
        if (wanted)
            keep([of = keys.of.data(), number = numberOf(keys, *wanted)](std::uint32_t row) {
                return of[row] == number;
            });
    };
    keepKey(columns.path, query.path);
    keepKey(columns.technician, query.technician);
    keepKey(columns.family, query.family);
    if (query.fromYear || query.toYear) {
        const std::int32_t from = std::max(query.fromYear.value_or(kNoYear + 1), kNoYear + 1);
        const std::int32_t to = query.toYear.value_or(std::numeric_limits<std::int32_t>::max());
        keep([year = columns.year.data(), from, to](std::uint32_t row) {
            return year[row] >= from && year[row] <= to;
        });
    }
    if (query.from || query.to) {
        const std::int32_t from = query.from ? daysOf(*query.from) : std::numeric_limits<std::int32_t>::min();
        const std::int32_t to = query.to ? daysOf(*query.to) : std::numeric_limits<std::int32_t>::max();
        keep([day = columns.delivered.data(), from, to](std::uint32_t row) {
            return day[row] >= from && day[row] <= to;
        });
    }
    return rows;
}

const OfficeLives::Groups& OfficeLives::groupsBy(const core::Facet& facet) const {
    const std::lock_guard lock(groupsLock_);
    const auto found = groups_.find(facet.id);
    if (found != groups_.end())
        return *found->second;

    const core::FacetNames facetNames{*shelf_, staff_};
    std::unordered_map<std::string, std::uint32_t> numbers;
    std::vector<std::uint32_t> firstSeen; // numbers in the order in which names turn up
    firstSeen.reserve(size());
    for (const core::LifeRecord& record : records_)
        firstSeen.push_back(
            numbers.try_emplace(facet.valueOf(record, facetNames), static_cast<std::uint32_t>(numbers.size()))
                .first->second);

    auto made = std::make_unique<Groups>();
    for (const auto& [name, number] : numbers)
        made->names.push_back(name);
    std::sort(made->names.begin(), made->names.end());
    std::vector<std::uint32_t> byName(numbers.size());
    for (std::uint32_t i = 0; i < made->names.size(); ++i)
        byName[numbers.at(made->names[i])] = i;
    made->of = std::move(firstSeen);
    for (std::uint32_t& number : made->of)
        number = byName[number];
    return *groups_.emplace(facet.id, std::move(made)).first->second;
}

} // namespace milehold::app
