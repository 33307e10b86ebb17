// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"
#include "core/shop/id.h"

#include <cstddef>

namespace milehold::storage {

class Shop;

/// What forgetting a customer takes, counted.
struct ErasureScope {
    std::size_t vehicles = 0;    ///< lose VIN, plate and note; their maker, model, year and engine stay
    std::size_t jobs = 0;        ///< lose what was written in words; dates, miles, parts and figures stay
    std::size_t followUps = 0;   ///< lose their notes; outcome, day and odometer stay
    std::size_t attachments = 0; ///< go altogether
    std::size_t drafts = 0;      ///< go altogether
    core::Moment backupsUntil;   ///< the last of today's backups is kept no longer than this
    std::size_t jobsInWork = 0;  ///< of the jobs: neither delivered nor void, so that somebody waits for them
    bool onServer = false;       ///< then the server's write-ahead log holds the old rows for a while
    /// After forgetting, on a server: its tables' files could not be written anew and hold the old rows until
    /// its keeper does that (the manual says how).
    bool oldRowsLeft = false;
    friend bool operator==(const ErasureScope&, const ErasureScope&) = default;
};

/// Counts without touching anything. Errors: NotFound; those of the database.
core::Result<ErasureScope> whatForgettingTakes(Shop& shop, core::CustomerId customer);

/// Overwrites everything that tells who a customer is, here and in the change log, whose chain still fits
/// because the keys of the logged values go and the values with them; then has the file, or the server's
/// tables, written anew, so that free pages hold nothing either. The lives of the vehicles stay as they are.
/// A verified backup is made before. Errors: NotFound, ReadOnly, DiskProblem, Unreadable (the backup did not
/// verify; nothing was touched).
core::Result<ErasureScope> forgetCustomer(Shop& shop, core::CustomerId customer);

} // namespace milehold::storage
