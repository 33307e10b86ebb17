// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <string>
#include <string_view>

namespace milehold::storage {

inline core::Error offlineError(std::string_view what) {
    return {core::ErrorCode::Offline, std::string(what)};
}
/// Whether a failure only says that the server cannot be reached now.
inline bool isOffline(const core::Error& error) {
    return error.code == core::ErrorCode::Offline;
}

} // namespace milehold::storage
