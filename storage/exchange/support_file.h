// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstddef>
#include <filesystem>
#include <iosfwd>

namespace milehold::storage {

class Shop;

/// What helps to find a fault and tells nothing about anybody: JSON, a line each. First the program's
/// version, the engine, the schema and what a full check says; then each table, a head and a line a row.
/// Keys, dates, distances, money and the program's own codes stand as they are; every word that somebody
/// typed, a name, telephone, VIN, plate, part number or note, is a token, the same one for the same word, so
/// that rows can still be told apart. A column that this program does not know to be harmless is made tokens,
/// too. Output: the number of rows. Errors: those of the database; DiskProblem when `out` fails.
core::Result<std::size_t> writeSupport(Shop& shop, std::ostream& out);

/// The same into a file that must not exist, for its owner's eyes only; the change log notes it.
/// Errors: InvalidInput when the file exists; as writeSupport(), and then no file is left.
core::Result<std::size_t> exportSupport(Shop& shop, const std::filesystem::path& file);

} // namespace milehold::storage
