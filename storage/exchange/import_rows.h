// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/finding.h"
#include "storage/exchange/exchange_store.h"
#include "storage/exchange/records_file.h"
#include "storage/exchange/sheet.h"

#include <cstddef>
#include <optional>
#include <string>

namespace milehold::storage {

/// Saves the rows of a file through the stores: finds what a row names, whether it is there already, checks
/// it by core's rules and counts what became of it. A row that cannot be taken goes into the report, and the
/// next may follow. Errors of save(): those after which nothing more can be tried.
class RowSaver {
public:
    RowSaver(Shop& shop, bool update, ImportReport& report) : shop_(shop), update_(update), report_(report) {}

    void startRow(std::size_t line) { line_ = line; }
    core::Result<void> save(core::Customer customer);
    core::Result<void> save(VehicleLine line);
    core::Result<void> save(JobLine line);
    core::Result<void> save(FollowUpLine line);
    core::Result<void> save(OdometerLine line);

private:
    enum class Fate { Add, Change, There, Bad };

    void bad(std::string column, std::string what);
    /// True when there are errors; they are then in the report.
    bool refuse(const core::Findings& findings);
    /// True, and in the report, where a form would ask again about this distance: nobody is there to answer.
    bool doubts(const core::Findings& findings, const std::string& field);
    /// True, and in the report, for a day that is still to come.
    bool isAhead(core::Date day, const std::string& column);
    /// What to do with a row whose key is that of a stored record, which it replaces or repeats.
    template <class Record> Fate against(Record& row, const core::Result<Record>& stored);
    void count(Fate fate);
    /// The one vehicle that a row names; in the report, and empty, when there is none or several.
    core::Result<std::optional<core::VehicleId>> vehicleOf(const VehicleName& name);

    Shop& shop_;
    bool update_;
    ImportReport& report_;
    std::size_t line_ = 0;
};

} // namespace milehold::storage
