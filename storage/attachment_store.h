// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/job.h"
#include "storage/files/attachment_files.h"

#include <filesystem>
#include <set>
#include <string>
#include <vector>

namespace milehold::storage {

class Session;
class Shop;

/// Photos, sounds and scanned pages of jobs: the file beside the shop under its hash, and a row that names it.
class AttachmentStore {
public:
    /// `folder` blank: this shop keeps no files (Unsupported).
    AttachmentStore(Session& session, const std::filesystem::path& folder)
        : session_(session), files_(folder) {}

    /// In the order in which they were added.
    core::Result<std::vector<core::Attachment>> ofJob(core::JobId job) const;
    /// Copies the file in and then names it; the same content on the same job is there once. `name` is how the
    /// person called it: data, never a path. Errors: InvalidInput (see AttachmentFiles::take), NotFound (the
    /// job), ReadOnly, DiskProblem, Unsupported.
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

private:
    core::Result<core::Attachment> find(core::AttachmentId id) const;

    Session& session_;
    AttachmentFiles files_;
};

/// The attachments of an open shop; those of a browsed backup lie beside it.
AttachmentStore attachmentsOf(Shop& shop);

} // namespace milehold::storage
