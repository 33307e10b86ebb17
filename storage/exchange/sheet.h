// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"
#include "core/shop/people.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"
#include "core/shop/vehicle.h"
#include "storage/exchange/table_sink.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

/// What cells are written and read with: the shop's units and the names that stand for keys.
struct SheetContext {
    core::ShopSettings settings;
    core::Shelf shelf;
    std::vector<core::Staff> staff;
};

/// A record beside what a file names it by.
struct VehicleLine {
    core::Vehicle vehicle;
    std::string customerName;
    std::string customerPhone; ///< the first
};
/// How a file names a vehicle: by key, VIN or plate, whichever is there.
struct VehicleName {
    std::optional<core::VehicleId> id;
    std::string vin;
    std::string plate;
};
struct JobLine {
    core::Job job;
    VehicleName vehicle;
    std::optional<std::int64_t> comebackOf; ///< the earlier job's number
};
struct FollowUpLine {
    core::FollowUp followUp;
    std::optional<std::int64_t> job; ///< its number
};
struct OdometerLine {
    core::OdometerReading reading;
    VehicleName vehicle;
};

/// One column of a file of records.
template <class Line> struct SheetColumn {
    std::string_view name;
    std::string (*write)(const Line& line, const SheetContext& context) = nullptr;
    /// What was expected, when the cell cannot be taken; blank cells are not handed over.
    std::optional<std::string> (*read)(Line& line, std::string_view cell,
                                       const SheetContext& context) = nullptr;
    bool required = false; ///< must stand in the header and in every row
    bool personal = false; ///< tells who somebody is: left out where people are
    CellKind kind = CellKind::Text;
};

/// The columns of each kind of file, in the order in which they are written; defined in sheet_*.cpp.
template <class Line> const std::vector<SheetColumn<Line>>& sheetColumns();

} // namespace milehold::storage
