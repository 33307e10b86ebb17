// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <string>
#include <string_view>

namespace milehold::storage {

/// A record of the shelf, a person or the settings as a JSON object, whatever stands in it: half typed ones
/// too. Keys are the columns', with `id` and `rev`. Made for core::EngineFamily, RepairPath, PartNumber,
/// Calibration, ShelfNote, Staff and ShopSettings.
template <class Record> std::string recordText(const Record& record);

/// The inverse. What is missing keeps its default, so that a text of an older program can still be read.
/// Errors: Unreadable for what is no such text.
template <class Record> core::Result<Record> recordFromText(std::string_view text);

} // namespace milehold::storage
