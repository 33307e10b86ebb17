// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life_mark.h"
#include "core/life/life_record.h"
#include "core/shop/people.h"
#include "core/shop/shelf.h"
#include "ui/office/office_view.h"

#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <span>
#include <string>
#include <unordered_map>
#include <vector>

namespace milehold::app {

/// Lives of a shop as the columns that the Office filters, groups and counts by, so that a change of a filter
/// goes through numbers that lie side by side instead of through records.
///
/// Made from the records that it is given and thrown away with them; the columns when they are first needed,
/// the groups of a facet when it is first asked for. For any thread.
class OfficeLives {
public:
    /// `owner` keeps `records` alive.
    OfficeLives(std::span<const core::LifeRecord> records, std::shared_ptr<const void> owner,
                std::shared_ptr<const core::Shelf> shelf, std::vector<core::Staff> staff);

    std::size_t size() const { return records_.size(); }

    /// The row numbers of the lives that pass the filters of a query, ascending: those for which passes()
    /// holds.
    std::vector<std::uint32_t> rowsPassing(const ui::OfficeQuery& query) const;

    struct Groups {
        std::vector<std::string> names; ///< all that some life has, by bytes
        std::vector<std::uint32_t> of;  ///< for each life, a number into `names`
    };
    const Groups& groupsBy(const core::Facet& facet) const;

    /// For each life.
    std::span<const core::LifeMark> marks() const { return columns().marks; }
    std::span<const core::JobId> jobs() const { return columns().jobs; }

private:
    /// The distinct values of a key, and for each life the number of its own; 0 is none.
    template <class Id> struct Keys {
        std::unordered_map<Id, std::uint32_t> numbers;
        std::vector<std::uint32_t> of;

        void add(const std::optional<Id>& id) {
            of.push_back(
                id ? numbers.try_emplace(*id, static_cast<std::uint32_t>(numbers.size()) + 1).first->second
                   : 0);
        }
    };
    struct Columns {
        std::vector<core::LifeMark> marks;
        std::vector<core::JobId> jobs;
        Keys<core::EngineFamilyId> family;
        Keys<core::RepairPathId> path;
        Keys<core::StaffId> technician;
        std::vector<std::int32_t> year;      ///< of the model; kNoYear where it is not known
        std::vector<std::int32_t> delivered; ///< days
    };
    const Columns& columns() const;

    std::span<const core::LifeRecord> records_;
    std::shared_ptr<const void> owner_;
    std::shared_ptr<const core::Shelf> shelf_;
    std::vector<core::Staff> staff_;
    mutable std::once_flag columnsOnce_;
    mutable Columns columns_;
    mutable std::mutex groupsLock_;
    mutable std::map<std::string, std::unique_ptr<const Groups>, std::less<>> groups_; ///< by the facet's id
};

} // namespace milehold::app
