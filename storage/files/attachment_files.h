// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <set>
#include <string>
#include <string_view>

namespace milehold::storage {

inline constexpr std::int64_t kMostAttachmentBytes = 50'000'000;

/// What a file is by its first bytes: `jpeg`, `png`, `gif`, `webp`, `tiff`, `heic`, `pdf`, `wav`, `mp3`,
/// `ogg`, `flac`, `mp4` or `webm`; empty for anything else. Its name is never asked.
std::optional<std::string_view> kindOfBytes(std::string_view head);

struct TakenFile {
    std::string kind;
    std::string sha256;
    std::int64_t size = 0;
    friend bool operator==(const TakenFile&, const TakenFile&) = default;
};

/// Hands a content out piece by piece; a blank piece is its end.
using ContentBlocks = std::function<core::Result<std::string>()>;

/// Writes a content to a file that must not exist, for reading only, checked on the way.
/// Errors: Unreadable when it is not what its hash says; DiskProblem; those of `from`.
core::Result<void> writeCopy(std::string_view sha256, const ContentBlocks& from,
                             const std::filesystem::path& to);

/// Files under the hash of what they hold, `ab/abcd...`: one file for each content, on the disk before
/// anybody may name it. Errors of all: DiskProblem, ReadOnly, NotFound, by the system's own code.
class AttachmentFiles {
public:
    explicit AttachmentFiles(std::filesystem::path folder) : folder_(std::move(folder)) {}

    const std::filesystem::path& folder() const { return folder_; }
    std::filesystem::path pathOf(std::string_view sha256) const;
    /// Copies a file in: to `tmp/`, hashed on the way, synced, renamed, and both folders synced.
    /// Errors: InvalidInput for what is no plain file (links are not followed), is empty, is larger than
    /// kMostAttachmentBytes or of a kind that is not kept; the detail never names the file.
    core::Result<TakenFile> take(const std::filesystem::path& from) const;
    /// Errors: NotFound; Unreadable when the file is not what its name says.
    core::Result<void> check(std::string_view sha256, std::int64_t size) const;
    /// Errors: NotFound.
    core::Result<ContentBlocks> read(std::string_view sha256) const;
    /// Copies a content over from another such folder unless it is here. Errors as check().
    core::Result<void> bring(std::string_view sha256, const AttachmentFiles& from) const;
    /// Keeps a content that comes from elsewhere. Errors: Unreadable when it is not what its hash says.
    core::Result<void> bring(std::string_view sha256, const ContentBlocks& from) const;
    /// The contents that are here, by their names.
    core::Result<std::set<std::string>> all() const;
    /// Removes what is not in `kept` and was last written before `before`, and what a killed program left in
    /// `tmp/`. Output: the number of files removed.
    core::Result<std::size_t> sweep(const std::set<std::string>& kept, core::Moment before) const;
    /// Removes one content now; no error when it is not here.
    core::Result<void> remove(std::string_view sha256) const;

private:
    std::filesystem::path folder_;
};

} // namespace milehold::storage
