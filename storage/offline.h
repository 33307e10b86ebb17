// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <string>
#include <string_view>

namespace milehold::storage {

/// Stands at the end of the detail of every error that means: the server does not answer. Nothing of the act
/// was stored.
inline constexpr std::string_view kOffline = " (server offline)";

inline core::Error offlineError(std::string_view what) {
    return {core::ErrorCode::DiskProblem, std::string(what) + std::string(kOffline)};
}
/// Whether a failure only says that the server cannot be reached now.
inline bool isOffline(const core::Error& error) {
    return error.code == core::ErrorCode::DiskProblem && error.detail.ends_with(kOffline);
}

} // namespace milehold::storage
