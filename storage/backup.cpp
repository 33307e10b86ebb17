// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/backup.h"

#include "storage/backup_shelf.h"
#include "storage/database/hash.h"
#include "storage/database/sqlite_connection.h"
#include "storage/files/attachment_copies.h"
#include "storage/files/backup_writer.h"
#include "storage/files/durable.h"
#include "storage/files/facts.h"
#include "storage/files/file_check.h"
#include "storage/files/manifest.h"
#include "storage/files/shop_folder.h"
#include "storage/files/shop_lock.h"
#include "storage/machine_clock.h"

#include <algorithm>
#include <array>
#include <limits>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

constexpr std::size_t kMostManifest = 1'000'000;

fs::path withEnding(const fs::path& file, const char* ending) {
    return fs::path(file) += ending;
}

core::Result<void> moveInto(const fs::path& file, const fs::path& folder) {
    std::error_code problem;
    if (!fs::exists(fs::symlink_status(file, problem)))
        return {};
    return renameFile(file, folder / file.filename());
}

constexpr std::array kJournals = {"-journal", "-wal", "-shm"};

/// Moves aside what SQLite would read beside a database: left there it would be played back into the next
/// one.
core::Result<void> moveJournals(const fs::path& database, const fs::path& to) {
    for (const auto* ending : kJournals) {
        if (auto moved = moveInto(withEnding(database, ending), to); !moved)
            return moved;
    }
    return {};
}

/// Whether a journal with anything in it lies beside a database: the two are then one file in two parts.
bool hasJournal(const fs::path& database) {
    return std::ranges::any_of(kJournals, [&](const char* ending) {
        std::error_code problem;
        const auto size = fs::file_size(withEnding(database, ending), problem);
        return !problem && size > 0;
    });
}

core::Result<fs::path> newFolder(const fs::path& parent, const std::string& name) {
    fs::path folder = parent / name;
    std::error_code problem;
    for (int i = 2; fs::exists(folder, problem); ++i)
        folder = parent / (name + "-" + std::to_string(i));
    if (auto made = makeFolder(folder); !made)
        return core::failureOf(made);
    return folder;
}

core::Result<void> copyWithJournals(const fs::path& database, const fs::path& to) {
    if (auto copied = copyFile(database, to / database.filename()); !copied)
        return copied;
    for (const auto* ending : {"-journal", "-wal"}) {
        const fs::path journal = withEnding(database, ending);
        std::error_code problem;
        if (!fs::exists(journal, problem))
            continue;
        if (auto copied = copyFile(journal, to / journal.filename()); !copied)
            return copied;
    }
    return {};
}

void removeReadings(const ShopFolder& folder) {
    std::error_code ignored;
    for (const auto& entry : fs::directory_iterator(folder.root, ignored)) {
        if (entry.path().filename().string().starts_with(kReadingFolder))
            fs::remove_all(entry.path(), ignored);
    }
}

/// A last verified copy of what is about to be replaced, where it can still be read. Only a copy is opened:
/// SQLite plays a journal back or drops it, and a rescue needs both as they were found.
core::Result<void> backUpReplaced(const ShopFolder& folder) {
    if (auto header = checkHeader(folder.database(), std::numeric_limits<std::int32_t>::max()); !header)
        return {};
    removeReadings(folder); // of a program that was killed
    auto work = newFolder(folder.root, kReadingFolder + stamp(machineNow()));
    if (!work)
        return core::failureOf(work);
    const auto read = [&]() -> core::Result<void> {
        if (auto copied = copyWithJournals(folder.database(), *work); !copied) {
            if (!sha256OfFile(folder.database()))
                return core::fail(ErrorCode::Unreadable, "the file cannot be read to its end");
            return copied;
        }
        auto database = openSqlite(*work / folder.database().filename(), Access::Write);
        if (!database)
            return core::fail(ErrorCode::Unreadable, database.error().detail);
        auto made = writeBackup(*database, folder, BackupReason::BeforeRestore, machineNow());
        closeSqlite(*database);
        return made ? core::Result<void>() : core::failureOf(made);
    }();
    removeReadings(folder);
    // Damage is the reason for many a restore; the file itself is kept in any case. A full disk is not.
    if (!read && read.error().code != ErrorCode::Unreadable && read.error().code != ErrorCode::NotAShop)
        return read;
    return {};
}

} // namespace

std::int64_t BackupInfo::jobs() const {
    const auto found = rows.find("job");
    return found == rows.end() ? 0 : found->second;
}

core::Result<std::vector<BackupInfo>> listBackups(const fs::path& shopFolder) {
    return listBackupsIn(ShopFolder{shopFolder}.backups());
}

namespace {

struct Shelf {
    std::vector<BackupInfo> backups; ///< newest first
    std::vector<fs::path> unreadable;
};

core::Result<Shelf> readShelf(const fs::path& folder) {
    Shelf shelf;
    std::error_code problem;
    if (!fs::exists(folder, problem))
        return shelf;
    fs::directory_iterator entries(folder, problem);
    if (problem)
        return tl::unexpected(systemError(problem.value(), "list the backups"));
    for (const auto& entry : entries) {
        const std::string name = entry.path().filename().string();
        if (name.starts_with("tmp-") || !entry.is_directory(problem))
            continue;
        const auto text = readFile(entry.path() / "manifest.json", kMostManifest);
        auto backup = text ? backupFromJson(*text) : core::failureOf(text);
        if (backup) {
            backup->folder = entry.path();
            shelf.backups.push_back(std::move(*backup));
        } else if (fs::exists(entry.path() / "shop.db", problem) ||
                   fs::exists(entry.path() / "manifest.json", problem)) {
            shelf.unreadable.push_back(entry.path());
        }
    }
    std::ranges::sort(shelf.backups, [](const auto& a, const auto& b) {
        return a.at != b.at ? a.at > b.at : a.folder.filename() > b.folder.filename();
    });
    std::ranges::sort(shelf.unreadable);
    return shelf;
}

} // namespace

core::Result<std::vector<BackupInfo>> listBackupsIn(const fs::path& folder) {
    auto shelf = readShelf(folder);
    if (!shelf)
        return core::failureOf(shelf);
    return std::move(shelf->backups);
}

core::Result<std::vector<fs::path>> unreadableBackupsIn(const fs::path& folder) {
    auto shelf = readShelf(folder);
    if (!shelf)
        return core::failureOf(shelf);
    return std::move(shelf->unreadable);
}

std::optional<BackupInfo> newestGoodBackup(const fs::path& shopFolder) {
    const auto all = listBackups(shopFolder);
    if (!all)
        return std::nullopt;
    for (const auto& backup : *all) {
        if (verifyBackup(backup))
            return backup;
    }
    return std::nullopt;
}

core::Result<void> verifyBackup(const BackupInfo& backup) {
    const fs::path file = backup.folder / "shop.db";
    std::error_code problem;
    const auto size = fs::file_size(file, problem);
    if (problem)
        return core::fail(ErrorCode::Unreadable, "the backup's file cannot be read");
    if (size != backup.bytes)
        return core::fail(ErrorCode::Unreadable, "the backup has another size than it was given");
    const auto hash = sha256OfFile(file);
    if (!hash || *hash != backup.sha256) {
        return core::fail(ErrorCode::Unreadable, "the backup is not what was written: its SHA-256 differs");
    }
    if (auto header = checkHeader(file, std::numeric_limits<std::int32_t>::max()); !header) {
        return core::failureOf(header);
    }
    const auto facts = factsOfSoundFile(file);
    if (!facts)
        return core::failureOf(facts);
    if (facts->schema != backup.schema || facts->rows != backup.rows ||
        facts->head != ChainHead{backup.chainSequence, backup.chainHash}) {
        return core::fail(ErrorCode::Unreadable, "the backup holds other figures than its manifest");
    }
    return checkAttachments(backup.folder);
}

core::Result<fs::path> restoreBackup(const fs::path& shopFolder, const BackupInfo& backup) {
    const ShopFolder folder{shopFolder};
    if (auto verified = verifyBackup(backup); !verified)
        return core::failureOf(verified);
    for (const auto& one :
         {folder.root, folder.store(), folder.attachments(), folder.backups(), folder.logs()}) {
        if (auto made = makeFolder(one); !made)
            return core::failureOf(made);
    }
    auto lock = ShopLock::take(folder);
    if (!lock)
        return core::failureOf(lock);
    if (auto kept = backUpReplaced(folder); !kept)
        return core::failureOf(kept);

    if (auto brought = bringAttachments(backup.folder, folder); !brought)
        return core::failureOf(brought);
    // The new file is whole and verified before the old one is touched.
    const fs::path incoming = withEnding(folder.database(), ".incoming");
    if (auto removed = removeFile(incoming); !removed)
        return core::failureOf(removed);
    if (auto copied = copyFile(backup.folder / "shop.db", incoming); !copied)
        return core::failureOf(copied);
    if (const auto hash = sha256OfFile(incoming); !hash || *hash != backup.sha256) {
        return core::fail(ErrorCode::DiskProblem, "the restored copy does not read back as the backup");
    }
    std::error_code none;
    if (!fs::exists(folder.database(), none)) {
        // Left-over journals belong to no file that is here, and would be played back into this one.
        for (const auto* ending : {"-journal", "-wal", "-shm"}) {
            if (fs::exists(withEnding(folder.database(), ending), none)) {
                auto aside = newFolder(folder.root, "replaced-" + stamp(machineNow()));
                if (!aside)
                    return aside;
                if (auto moved = moveJournals(folder.database(), *aside); !moved)
                    return core::failureOf(moved);
                break;
            }
        }
        if (auto renamed = renameFile(incoming, folder.database()); !renamed)
            return core::failureOf(renamed);
        if (auto removed = removeFile(folder.openMark()); !removed)
            return core::failureOf(removed);
        return fs::path();
    }
    auto aside = newFolder(folder.root, "replaced-" + stamp(machineNow()));
    if (!aside)
        return aside;
    // A copy, so that at no moment there is no shop. Moved is a file that cannot be read to its end, and one
    // with a journal: left for a moment without it, it would pass for a shop and hold half a save.
    const fs::path copy = *aside / folder.database().filename();
    if (hasJournal(folder.database()) || !copyFile(folder.database(), copy)) {
        std::error_code ignored;
        fs::remove(copy, ignored);
        if (auto moved = moveInto(folder.database(), *aside); !moved)
            return core::failureOf(moved);
    }
    if (auto moved = moveJournals(folder.database(), *aside); !moved)
        return core::failureOf(moved);
    if (auto renamed = renameFile(incoming, folder.database()); !renamed)
        return core::failureOf(renamed);
    if (auto removed = removeFile(folder.openMark()); !removed)
        return core::failureOf(removed);
    return aside;
}

} // namespace milehold::storage
