// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/change_log.h"

#include <cstdint>
#include <string>
#include <vector>

namespace milehold::storage {

/// What one table held at both ends of a move: a digest is the SHA-256 over the digests of all its rows.
struct MovedTable {
    std::string name;
    std::int64_t rows = 0;
    std::string from;
    std::string to;
};

struct MoveReport {
    std::vector<MovedTable> tables; ///< all equal; a difference is an error, and nothing is kept
    ChainHead head;                 ///< of the change log, which came along row by row
    std::int64_t files = 0;         ///< attachments copied, each checked against its SHA-256
};

/// Copies a whole shop between a folder and a server: every record with its revision, the change log with its
/// hashes, counters and settings, in one transaction; then both ends are read again and compared row by row
/// before that is committed. Drafts stay where they were typed. The source is only read, and must not be open
/// elsewhere when it is a folder. The files of attachments come along, each checked against its SHA-256 at
/// both ends. Errors: those of opening either end; InvalidInput when the target is not empty (a folder that
/// exists, a server that holds a shop) ; Unreadable when a copy differs.
core::Result<MoveReport> moveShop(const std::string& from, const std::string& to);

} // namespace milehold::storage
