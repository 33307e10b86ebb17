// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/quantity/distance.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

/// Text as a cell of free text: one that a spreadsheet could take for a formula (after blanks it begins with
/// = + - @, their full-width forms, a tab, a line end) gets a leading '. Undone exactly by unguarded().
std::string guarded(std::string_view text);
std::string unguarded(std::string_view cell);

/// A cell as RFC 4180 writes it: in quotes where it holds a comma, a quote or a line end.
std::string csvCell(std::string_view cell);

/// A list in one cell: entries with `separator` and a blank between them, an entry in quotes where it holds
/// the separator, a quote, a line end, blanks at its ends, or nothing. Lists nest with different separators.
std::string joinedList(const std::vector<std::string>& entries, char separator);
/// Empty when a quote does not close or something follows it.
std::optional<std::vector<std::string>> splitList(std::string_view cell, char separator);

/// A distance in whole units; one that is none in that unit is written in metres, as `80467123 m`.
std::string distanceCell(core::Distance distance, core::DistanceUnit unit);
/// `50000`, `50000 mi`, `80467 km` or `80467123 m`; a bare number is in `unit`. Blanks within and commas are
/// not guessed at.
std::optional<core::Distance> distanceFromCell(std::string_view cell, core::DistanceUnit unit);

/// Whole numbers without sign or with -; the whole cell.
std::optional<std::int64_t> wholeFromCell(std::string_view cell);
/// `yes` or `no`.
std::optional<bool> yesFromCell(std::string_view cell);

} // namespace milehold::storage
