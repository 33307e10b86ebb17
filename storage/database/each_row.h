// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "storage/database/statement.h"

#include <type_traits>

namespace milehold::storage {

/// Runs a bound statement and calls `take()` at each row, until no row is left or something fails; `take`
/// gives nothing, or a core::Result<void> whose failure ends the reading. A failed read is an error, never
/// the end of the rows.
template <class Take> core::Result<void> eachRow(Statement& select, Take take) {
    if (auto ran = select.run(); !ran)
        return ran;
    while (true) {
        const auto more = select.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            return {};
        if constexpr (std::is_void_v<decltype(take())>)
            take();
        else if (core::Result<void> taken = take(); !taken)
            return taken;
    }
}

} // namespace milehold::storage
