// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/change_log.h"
#include "storage/database/value.h"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <string_view>

namespace milehold::storage {

/// What a database holds, in figures that a copy of it must share.
struct Facts {
    std::int64_t applicationId = 0;
    std::int64_t schema = 0;
    std::map<std::string, std::int64_t> rows; ///< per table
    ChainHead head;
    friend bool operator==(const Facts&, const Facts&) = default;
};

/// Answers a query with its first column of its first row, on whatever connection.
using Ask = std::function<core::Result<Value>(std::string_view sql)>;

core::Result<Facts> readFacts(const Ask& ask);

/// What a database holds that nobody else has open, once it is found sound.
core::Result<Facts> factsOfSoundFile(const std::filesystem::path& file);

/// integrity_check and foreign_key_check. Errors: Unreadable when either finds anything.
core::Result<void> checkSound(const Ask& ask);

} // namespace milehold::storage
