// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstddef>
#include <filesystem>

namespace milehold::storage {

class Shop;
class UnitOfWork;

/// Writes `attachment.csv` and the files that it names, `attachments/ab/abcd...`, each checked against its
/// hash on the way. Output: the number of rows. Errors: Unreadable for a file that is not what was kept,
/// NotFound for one that is missing.
core::Result<std::size_t> exportAttachments(Shop& shop, const std::filesystem::path& folder);

/// Takes them into a shop whose jobs are there. A folder of an older program has none of them.
/// Errors: InvalidInput as `attachment.csv:LINE: what is wrong`, also for a file that is missing or not what
/// its name says.
core::Result<std::size_t> importAttachments(UnitOfWork& unit, Shop& shop,
                                            const std::filesystem::path& folder);

} // namespace milehold::storage
