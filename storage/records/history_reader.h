// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/result.h"
#include "storage/database/statement.h"

#include <memory>
#include <optional>

namespace milehold::storage {

/// Walks all vehicles with what lives are derived from: five forward-only queries in the order of the
/// vehicles' keys, merged. Texts that no life depends on (concern, notes, VIN, plate) are left blank. Cost:
/// one pass over each table.
class HistoryReader {
public:
    /// `only` null: every vehicle.
    HistoryReader(Session& session, const std::optional<core::VehicleId>& only);
    ~HistoryReader();

    /// Fills `history` with the next vehicle's; false after the last.
    core::Result<bool> next(core::VehicleHistory& history);

private:
    struct Cursors;
    std::unique_ptr<Cursors> cursors_;
};

} // namespace milehold::storage
