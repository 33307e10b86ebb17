// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/shelf_record.h"

namespace milehold::tests {

core::Date day(int year, unsigned month, unsigned dayOfMonth);
core::Uuid uuid(std::uint8_t n);

/// A small shelf with something odd in every record: quotes, umlauts, empty ends of ranges, blanks at the
/// ends of lines.
ui::ShelfContents smallShelf();

// Where things stand in smallShelf().
inline constexpr std::size_t kV6 = 0;
inline constexpr std::size_t kInline = 1;
inline constexpr std::size_t kOldPhaser = 0;
inline constexpr std::size_t kNewPhaser = 1;
inline constexpr std::size_t kValve = 2;

} // namespace milehold::tests
