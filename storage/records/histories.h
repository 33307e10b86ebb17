// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/result.h"

#include <cstddef>
#include <memory>
#include <optional>

namespace milehold::storage {

class Session;

/// What lives are derived from, of one vehicle or of all of them. Texts that no life depends on (concern,
/// notes, VIN, plate) are left blank.
///
/// Each table is read once in the order in which its rows lie, and put in order here: asking for the rows
/// vehicle by vehicle would fetch every single one from another page of the file.
class Histories {
public:
    /// `only` null: every vehicle. Errors: those of the database, Unreadable for a value that is not known.
    static core::Result<Histories> read(Session& session, const std::optional<core::VehicleId>& only);
    Histories(Histories&&) noexcept;
    ~Histories();

    /// How many vehicles there are; their histories come by ascending keys.
    std::size_t size() const;
    /// Fills `history` with that of a vehicle: jobs and readings by date, calls in no order. For any thread.
    void fill(std::size_t vehicle, core::VehicleHistory& history) const;
    bool hasJobs(std::size_t vehicle) const;

private:
    struct Tables;
    explicit Histories(std::unique_ptr<Tables> tables);

    std::unique_ptr<Tables> tables_;
};

} // namespace milehold::storage
