// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/attachment_copies.h"

#include "storage/backup_shelf.h"
#include "storage/database/hash.h"
#include "storage/database/raw_database.h"
#include "storage/files/attachment_files.h"
#include "storage/files/durable.h"

#include <sstream>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

constexpr auto kList = "attachments.txt";
constexpr auto kMissing = " missing";
constexpr std::size_t kMostList = 100'000'000;

fs::path shared(const fs::path& backups) {
    return backups / "attachments";
}

/// The contents that the records of a closed database name.
core::Result<std::set<std::string>> namedIn(const fs::path& database) {
    auto copy = RawDatabase::openAlone(database);
    if (!copy)
        return core::failureOf(copy);
    std::set<std::string> hashes;
    std::string last;
    while (true) {
        auto next = copy->ask("SELECT coalesce(min(sha256), '') FROM attachment WHERE sha256 > ?1", last);
        if (!next)
            return core::failureOf(next);
        const auto* hash = std::get_if<std::string>(&*next);
        if (hash == nullptr || hash->empty())
            break;
        if (hash->find_first_not_of("0123456789abcdef") != std::string::npos)
            return core::fail(ErrorCode::Unreadable, "an attachment has no hash for a name");
        last = *hash;
        hashes.insert(last);
    }
    if (auto closed = copy->close(); !closed)
        return core::failureOf(closed);
    return hashes;
}

struct Listed {
    std::set<std::string> there;
    std::set<std::string> missing;
};

core::Result<Listed> readList(const fs::path& backup) {
    Listed listed;
    std::error_code problem;
    if (!fs::exists(backup / kList, problem))
        return listed;
    const auto text = readFile(backup / kList, kMostList);
    if (!text)
        return core::failureOf(text);
    std::istringstream lines(*text);
    for (std::string line; std::getline(lines, line);) {
        if (line.ends_with(kMissing))
            listed.missing.insert(line.substr(0, line.size() - std::string_view(kMissing).size()));
        else
            listed.there.insert(line);
    }
    return listed;
}

core::Result<void> bringListed(const fs::path& backup, const AttachmentFiles& to) {
    const auto listed = readList(backup);
    if (!listed)
        return core::failureOf(listed);
    const AttachmentFiles from(shared(backup.parent_path()));
    for (const auto& hash : listed->there) {
        if (auto brought = to.bring(hash, from); !brought)
            return brought;
    }
    return {};
}

} // namespace

fs::path attachmentsFolder(const fs::path& shopOrBackup) {
    if (shopOrBackup.empty())
        return {};
    const ShopFolder folder{shopOrBackup};
    std::error_code problem;
    if (fs::exists(folder.store(), problem))
        return folder.attachments();
    return fs::exists(shopOrBackup, problem) ? shared(shopOrBackup.parent_path()) : fs::path();
}

core::Result<void> copyAttachments(const fs::path& database, const ShopFolder& folder) {
    const auto hashes = namedIn(database);
    if (!hashes)
        return core::failureOf(hashes);
    if (hashes->empty())
        return {};
    const AttachmentFiles from(folder.attachments());
    const AttachmentFiles to(shared(folder.backups()));
    std::string list;
    for (const auto& hash : *hashes) {
        const auto brought = to.bring(hash, from);
        if (!brought && brought.error().code != ErrorCode::NotFound &&
            brought.error().code != ErrorCode::Unreadable)
            return brought;
        list += hash + (brought ? "" : kMissing) + "\n";
    }
    return createFile(database.parent_path() / kList, list);
}

core::Result<void> checkAttachments(const fs::path& backup) {
    const auto hashes = namedIn(backup / "shop.db");
    if (!hashes)
        return core::failureOf(hashes);
    if (hashes->empty())
        return {};
    const auto listed = readList(backup);
    if (!listed)
        return core::failureOf(listed);
    auto all = listed->there;
    all.insert(listed->missing.begin(), listed->missing.end());
    if (all != *hashes)
        return core::fail(ErrorCode::Unreadable, "the backup's list of attachments is not of its records");
    const AttachmentFiles files(shared(backup.parent_path()));
    for (const auto& hash : listed->there) {
        if (const auto found = sha256OfFile(files.pathOf(hash)); !found || *found != hash)
            return core::fail(ErrorCode::Unreadable, "an attachment of the backup is missing or damaged");
    }
    return {};
}

core::Result<void> bringAttachments(const fs::path& backup, const ShopFolder& folder) {
    return bringListed(backup, AttachmentFiles(folder.attachments()));
}

core::Result<void> carryAttachments(const fs::path& backup, const fs::path& shelf) {
    return bringListed(backup, AttachmentFiles(shared(shelf)));
}

core::Result<std::set<std::string>> contentsOfBackup(const fs::path& backup) {
    auto listed = readList(backup);
    if (!listed)
        return core::failureOf(listed);
    listed->there.merge(listed->missing);
    return std::move(listed->there);
}

void sweepAttachments(const fs::path& backups) {
    std::error_code problem;
    if (!fs::exists(shared(backups), problem))
        return;
    const auto kept = listBackupsIn(backups);
    const auto unread = unreadableBackupsIn(backups);
    if (!kept || !unread || !unread->empty())
        return;
    std::set<std::string> named;
    for (const auto& backup : *kept) {
        auto listed = readList(backup.folder);
        if (!listed)
            return;
        named.merge(listed->there);
    }
    static_cast<void>(AttachmentFiles(shared(backups)).sweep(named, core::Moment::max()));
}

} // namespace milehold::storage
