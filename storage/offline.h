// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <string>
#include <string_view>

namespace milehold::storage {

// Kinds of failure that only a shop on a server knows, numbered behind those of core, which has none of them.

/// The server does not answer. Nothing of the act was stored.
inline constexpr core::ErrorCode kOffline{64};
/// The server gave a transaction up for another's sake (SQLSTATE 40001, 40P01): all of it may be run again.
inline constexpr core::ErrorCode kGivenUp{65};
static_assert(kOffline > core::ErrorCode::Internal && kGivenUp > core::ErrorCode::Internal);

inline core::Error offlineError(std::string_view what) {
    return {kOffline, std::string(what)};
}
/// Whether a failure only says that the server cannot be reached now.
inline bool isOffline(const core::Error& error) {
    return error.code == kOffline;
}

} // namespace milehold::storage
