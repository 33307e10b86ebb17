// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"

#include <filesystem>
#include <optional>
#include <string>

namespace milehold::storage {

/// When somebody last looked after a shop; kept in `care.json` beside its records. Losing it loses no record.
struct ShopCare {
    std::optional<core::Moment> fullCheck;   ///< the whole file was found sound
    std::optional<core::Moment> offMachine;  ///< a verified backup was copied to another disk
    std::optional<core::Moment> testRestore; ///< a backup was restored on trial and opened
    std::optional<core::Moment> swept;       ///< files that nobody names any more were looked for
    std::string offMachineFolder;            ///< where those copies go; blank: nobody chose a place
    friend bool operator==(const ShopCare&, const ShopCare&) = default;
};

/// Blank when there is none. Errors: Unreadable, DiskProblem; it must not be written over then, or the place
/// of the copies is lost.
core::Result<ShopCare> readCare(const std::filesystem::path& shopFolder);
/// Replaces it whole. Errors: DiskProblem, ReadOnly, NotFound.
core::Result<void> writeCare(const std::filesystem::path& shopFolder, const ShopCare& care);

/// Whether something last done at `last` has to be done again at `now`: never done, so long ago, or in the
/// future (the clock was put back).
bool isDue(std::optional<core::Moment> last, core::Moment now, std::chrono::hours every);

inline constexpr auto kFullCheckEvery = std::chrono::hours(7 * 24);
inline constexpr auto kSweepEvery = std::chrono::hours(24);
inline constexpr auto kOffMachineEvery = std::chrono::hours(7 * 24);
inline constexpr auto kTestRestoreEvery = std::chrono::hours(182 * 24);

} // namespace milehold::storage
