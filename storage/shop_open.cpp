// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/shop_open.h"

#include "core/shop/validation.h"
#include "storage/database/sqlite_connection.h"
#include "storage/files/backup_writer.h"
#include "storage/files/durable.h"
#include "storage/files/file_check.h"
#include "storage/files/full_check.h"
#include "storage/machine_clock.h"
#include "storage/make_id.h"
#include "storage/records/repository.h"
#include "storage/records/stored.h"
#include "storage/shop_care.h"

#include <string>

namespace milehold::storage {

using core::ErrorCode;
namespace fs = std::filesystem;

namespace {

std::function<core::Moment()> clockOf(const OpenOptions& options) {
    if (options.clock)
        return options.clock;
    return machineNow;
}

core::Result<void> makeFolders(const ShopFolder& folder) {
    for (const auto& one : {folder.store(), folder.attachments(), folder.backups(), folder.logs()}) {
        if (auto made = makeFolder(one); !made)
            return made;
    }
    return {};
}

core::Result<void> setMark(const ShopFolder& folder) {
    std::error_code problem;
    if (fs::exists(folder.openMark(), problem))
        return {};
    return createFile(folder.openMark(), "");
}

/// After a shop that was never closed, and weekly.
core::Result<void> checkInFull(Session& session, const ShopFolder& folder, bool wasLeftOpen) {
    auto care = readCare(folder.root);
    const auto now = session.now();
    if (!wasLeftOpen && care && !isDue(care->fullCheck, now, kFullCheckEvery))
        return {};
    const auto report = fullCheck(session);
    if (!report)
        return core::failureOf(report);
    if (!report->sound())
        return core::fail(ErrorCode::Unreadable,
                          std::string(wasLeftOpen ? "the shop was not closed, and the" : "the weekly") +
                              " full check found: " + report->problems.front());
    if (!care)
        return {}; // it is not written over; the check is made again at the next opening
    care->fullCheck = now;
    // When it cannot be noted the check is merely made again at the next opening.
    static_cast<void>(writeCare(folder.root, *care));
    return {};
}

/// Removes what a failed creation has made, and nothing else.
void removeCreated(const ShopFolder& folder, bool rootIsOurs) {
    std::error_code ignored;
    for (const auto& one : {folder.store(), folder.backups(), folder.logs()})
        fs::remove_all(one, ignored);
    fs::remove(folder.lock(), ignored);
    fs::remove(folder.root / "care.json", ignored);
    if (rootIsOurs)
        fs::remove(folder.root, ignored);
}

/// `settings` null: without the shop's own row.
core::Result<void> fill(OpenedShop& shop, const core::ShopSettings* settings,
                        const std::vector<Migration>& steps) {
    if (auto made = makeFolders(shop.folder); !made)
        return made;
    if (auto made = createFile(shop.folder.database(), ""); !made)
        return made;
    if (auto connected = shop.session->connect(); !connected)
        return connected;
    if (auto marked = setMark(shop.folder); !marked)
        return marked;
    if (auto migrated = migrate(shop.session->database(), steps, 0, shop.session->now()); !migrated)
        return migrated;
    if (settings == nullptr)
        return {};
    auto written = writeSettings(*shop.session, *settings);
    if (!written)
        return core::failureOf(written);
    ShopCare care;
    care.fullCheck = shop.session->now();
    return writeCare(shop.folder.root, care);
}

core::Result<OpenedShop> createFolder(const ShopFolder& folder, const core::ShopSettings* settings,
                                      const OpenOptions& options, const std::vector<Migration>& steps) {
    if (folder.root.extension() != kFolderSuffix || folder.root.stem().empty()) {
        return core::fail(ErrorCode::InvalidInput, "a shop's folder is named NAME.milehold");
    }
    std::error_code problem;
    const bool rootIsOurs = !fs::exists(folder.root, problem);
    if (!rootIsOurs && (!fs::is_directory(folder.root, problem) || !fs::is_empty(folder.root, problem))) {
        return core::fail(ErrorCode::InvalidInput, "the folder exists and is not empty");
    }
    if (auto made = makeFolder(folder.root); !made)
        return core::failureOf(made);
    fs::permissions(folder.root, fs::perms::owner_all, problem);
    OpenedShop shop;
    shop.folder = folder;
    auto allowed = checkFileSystem(folder.root);
    auto lock =
        allowed ? ShopLock::take(folder) : core::Result<std::unique_ptr<ShopLock>>(core::failureOf(allowed));
    if (!lock) {
        if (rootIsOurs)
            fs::remove(folder.root, problem);
        return core::failureOf(lock);
    }
    shop.lock = std::move(*lock);
    shop.session = std::make_unique<Session>(
        [file = folder.database()] { return openSqlite(file, Access::Write); }, clockOf(options), false);
    if (auto filled = fill(shop, settings, steps); !filled) {
        shop.session.reset();
        shop.lock.reset();
        removeCreated(folder, rootIsOurs);
        return core::failureOf(filled);
    }
    return shop;
}

} // namespace

core::Result<OpenedShop> openShop(const ShopFolder& folder, const OpenOptions& options,
                                  const std::vector<Migration>& steps) {
    std::error_code problem;
    if (!fs::exists(folder.root, problem))
        return core::fail(ErrorCode::NotFound, "there is no such folder");
    if (!fs::is_directory(folder.root, problem)) {
        return core::fail(ErrorCode::NotAShop, "a shop is a folder, and this is a file");
    }
    if (!fs::is_directory(folder.store(), problem)) {
        if (problem == std::errc::permission_denied)
            return core::fail(ErrorCode::ReadOnly, "no right to look into the shop's folder");
        return core::fail(ErrorCode::NotAShop, "the folder holds no shop");
    }
    if (auto allowed = checkFileSystem(folder.root); !allowed)
        return core::failureOf(allowed);
    OpenedShop shop;
    shop.folder = folder;
    auto lock = ShopLock::take(folder);
    if (!lock)
        return core::failureOf(lock);
    shop.lock = std::move(*lock);
    auto header = checkHeader(folder.database(), steps.back().version);
    if (!header)
        return core::failureOf(header);

    const auto clock = clockOf(options);
    const auto beforeConversion = [folder, clock](QSqlDatabase& database) -> core::Result<void> {
        auto made = writeBackup(database, folder, BackupReason::BeforeMigration, clock());
        if (!made)
            return core::failureOf(made);
        return {};
    };
    shop.session = std::make_unique<Session>(
        [file = folder.database(), beforeConversion] {
            return openSqlite(file, Access::Write, beforeConversion);
        },
        clock, false);
    const bool wasLeftOpen = fs::exists(folder.openMark(), problem);
    if (auto connected = shop.session->connect(); !connected)
        return core::failureOf(connected);
    // With the schema that it was written under: the checks of this program need this program's schema.
    if (header->schema < steps.back().version) {
        auto kept = writeBackup(shop.session->database(), folder, BackupReason::BeforeMigration, clock());
        if (!kept)
            return core::failureOf(kept);
        if (auto migrated = migrate(shop.session->database(), steps, header->schema, clock()); !migrated) {
            return core::failureOf(migrated);
        }
    }
    if (auto sound = checkInFull(*shop.session, folder, wasLeftOpen); !sound)
        return core::failureOf(sound);
    if (auto made = makeFolders(folder); !made)
        return core::failureOf(made);
    if (auto marked = setMark(folder); !marked)
        return core::failureOf(marked);
    return shop;
}

core::Result<OpenedShop> createShop(const ShopFolder& folder, const core::ShopSettings& settings,
                                    const OpenOptions& options, const std::vector<Migration>& steps) {
    if (auto allowed = refuseErrors("shop", core::validate(settings)); !allowed)
        return core::failureOf(allowed);
    return createFolder(folder, &settings, options, steps);
}

core::Result<OpenedShop> createEmptyShop(const ShopFolder& folder, const OpenOptions& options,
                                         const std::vector<Migration>& steps) {
    return createFolder(folder, nullptr, options, steps);
}

core::Result<OpenedShop> browseBackup(const BackupInfo& backup, const OpenOptions& options,
                                      const std::vector<Migration>& steps) {
    if (auto verified = verifyBackup(backup); !verified)
        return core::failureOf(verified);
    if (backup.schema > steps.back().version) {
        return core::fail(ErrorCode::TooNew, "the backup has schema " + std::to_string(backup.schema));
    }
    OpenedShop shop;
    shop.folder.root = backup.folder;
    fs::path file = backup.folder / "shop.db";
    if (backup.schema < steps.back().version) {
        // An older backup is read through today's schema: in a copy, so that the backup stays what it is.
        auto made = TemporaryFolder::make("browse");
        if (!made)
            return core::failureOf(made);
        shop.temporary = std::move(*made);
        if (auto copied = copyFile(file, shop.temporary->path() / "shop.db"); !copied)
            return core::failureOf(copied);
        file = shop.temporary->path() / "shop.db";
        auto database = openSqlite(file, Access::Write);
        if (!database)
            return core::failureOf(database);
        auto migrated = migrate(*database, steps, backup.schema, clockOf(options)());
        closeSqlite(*database);
        if (!migrated)
            return core::failureOf(migrated);
    }
    shop.session =
        std::make_unique<Session>([file] { return openSqlite(file, Access::Read); }, clockOf(options), true);
    if (auto connected = shop.session->connect(); !connected)
        return core::failureOf(connected);
    return shop;
}

core::Result<core::ShopSettings> readSettings(Session& session) {
    auto stored = findRecord<StoredSettings>(session, StoredSettings::kId.uuid);
    if (!stored)
        return core::failureOf(stored);
    stored->settings.revision = stored->revision;
    return stored->settings;
}

core::Result<core::ShopSettings> writeSettings(Session& session, const core::ShopSettings& settings) {
    if (auto allowed = refuseErrors("shop", core::validate(settings)); !allowed)
        return core::failureOf(allowed);
    return inOneUnit(session, [&](UnitOfWork& unit) -> core::Result<core::ShopSettings> {
        StoredSettings row;
        row.settings = settings;
        row.revision = settings.revision;
        row.settings.revision = 0; // the row's own counts
        auto saved = saveRecord(unit, session, row);
        if (!saved)
            return core::failureOf(saved);
        saved->settings.revision = saved->revision;
        return saved->settings;
    });
}

} // namespace milehold::storage
