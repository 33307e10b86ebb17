// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/job.h"
#include "storage/files/attachment_files.h"
#include "storage/server/attachment_contents.h"

#include <chrono>
#include <filesystem>
#include <set>
#include <string>
#include <vector>

namespace milehold::storage {

class Session;
class Shop;
class UnitOfWork;

/// Photos, sounds and scanned pages of jobs: the content under its hash, beside the shop or on its server,
/// and a row that names it.
class AttachmentStore {
public:
    /// `folder` is where the files lie; for a shop on a server where they stand on their way there. Blank:
    /// this shop keeps none (Unsupported).
    AttachmentStore(Session& session, const std::filesystem::path& folder)
        : session_(session), files_(folder), contents_(session) {}

    /// In the order in which they were added.
    core::Result<std::vector<core::Attachment>> ofJob(core::JobId job) const;
    /// Of the whole shop, by their keys.
    core::Result<std::vector<core::Attachment>> all() const;
    /// Copies the file in and then names it; the same content on the same job is there once. `name` is how
    /// the person called it: data, never a path. Errors: InvalidInput (see AttachmentFiles::take), NotFound
    /// (the job), ReadOnly, DiskProblem, Unsupported.
    core::Result<core::Attachment> add(core::JobId job, const std::filesystem::path& from, std::string name);
    /// Takes the name away; the file goes with the next sweep when nothing names it any more.
    core::Result<void> remove(core::AttachmentId id);
    /// A copy to look at in a folder of its own, for reading only, checked on the way. Output: the copy.
    core::Result<std::filesystem::path> copyToRead(core::AttachmentId id,
                                                   const std::filesystem::path& folder) const;
    /// Hashes every file that a row names. Output: what is wrong, in sentences without names.
    core::Result<std::vector<std::string>> check() const;
    /// The contents that rows name.
    core::Result<std::set<std::string>> named() const;
    /// Removes files that no row and no kept backup names, older than `before`.
    core::Result<std::size_t> sweep(std::set<std::string> inBackups, core::Moment before) const;
    /// Removes at once the files of these that no row names any more.
    core::Result<void> removeUnnamed(const std::vector<core::Attachment>& gone) const;

    /// A content, to be handed on. Errors: NotFound, here or with the first piece.
    core::Result<ContentBlocks> read(const std::string& sha256) const;
    /// Keeps a content that comes from another shop, before a row names it. Errors: Unreadable when it is not
    /// what its hash says; those of `from`.
    core::Result<void> keep(const std::string& sha256, std::int64_t size, const ContentBlocks& from) const;
    /// Names a content that is kept, under the key that the record has. Errors: NotFound, when it is not
    /// kept.
    core::Result<void> name(UnitOfWork& unit, const core::Attachment& record) const;

private:
    bool isOnServer() const;
    core::Result<TakenFile> take(const std::filesystem::path& from) const;
    core::Result<core::Attachment> find(core::AttachmentId id) const;

    Session& session_;
    AttachmentFiles files_;
    AttachmentContents contents_;
};

/// The attachments of an open shop; those of a browsed backup lie beside it.
AttachmentStore attachmentsOf(Shop& shop);

/// How long a file that nobody names is kept.
inline constexpr auto kKeptUnnamed = std::chrono::hours(30 * 24);

/// Removes the files that no record and no kept backup has named for kKeptUnnamed; on a server those that no
/// record names. Output: how many. Errors: ReadOnly; Unreadable when a kept backup does not say what it
/// holds: then nothing is removed.
core::Result<std::size_t> sweepUnnamed(Shop& shop, core::Moment now);

} // namespace milehold::storage
