// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"
#include "storage/files/attachment_files.h"

#include <cstddef>
#include <cstdint>
#include <set>
#include <string>
#include <string_view>

namespace milehold::storage {

class Session;

/// The contents of attachments in a shop on a server: rows of blocks under the hash of the whole, each
/// content once. Nobody changes one; who may remove one is the server's to say (resources/server/rights.sql).
class AttachmentContents {
public:
    explicit AttachmentContents(Session& session) : session_(session) {}

    core::Result<bool> isThere(std::string_view sha256) const;
    /// Keeps a content, whole or not at all, unless it is there and sound. In a unit of work it belongs to
    /// that; else it is a transaction of its own that holds no lock which other stations' saves wait for.
    /// Errors: Unreadable when it is not what its hash says; those of `from` and of the database.
    core::Result<void> put(std::string_view sha256, std::int64_t size, const ContentBlocks& from) const;
    /// Fetches block by block. A content that is not there is NotFound at the first.
    ContentBlocks read(std::string_view sha256) const;
    /// Has the server hash it. Errors: NotFound; Unreadable when it is not what its hash says.
    core::Result<void> check(std::string_view sha256, std::int64_t size) const;
    core::Result<std::set<std::string>> all() const;
    /// Removes what no record names and was kept before `before`. Output: how many.
    core::Result<std::size_t> sweep(core::Moment before) const;
    core::Result<void> remove(std::string_view sha256) const;

private:
    core::Result<void> insert(std::string_view sha256, std::int64_t size, const ContentBlocks& from) const;

    Session& session_;
};

} // namespace milehold::storage
