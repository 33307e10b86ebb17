// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstddef>
#include <filesystem>

namespace milehold::storage {

class Shop;

/// Writes every record of the shop into a new folder, a CSV file a table, every field as it is stored, and
/// the files of attachments under `attachments/` by their hashes. For a shop's own hands: it holds
/// everybody's names. The change log keeps that it was done. Output: the number of records. Errors:
/// InvalidInput when the folder exists; those of the stores.
core::Result<std::size_t> exportWhole(Shop& shop, const std::filesystem::path& folder);

/// Reads such a folder into a shop that holds no record yet: afterwards each record is equal to the one that
/// was exported, under the same key, but for its revision, which counts anew; each file is checked against
/// its hash. All of it or nothing. Output: the number of records. Errors: InvalidInput as `FILE:LINE: what is
/// wrong` or when the shop is not empty; Unreadable when what arrived breaks a rule of the shop.
core::Result<std::size_t> importWhole(const std::filesystem::path& folder, Shop& shop);

} // namespace milehold::storage
