// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/restore_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/shop_input.h"
#include "storage/backup_shelf.h"
#include "storage/machine_clock.h"
#include "storage/off_machine.h"
#include "storage/salvage.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <memory>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;
using storage::BackupInfo;

namespace {

struct Options {
    ShopInput shop;
    std::string backup;
    std::string from;
    bool salvage = false;
    bool trial = false;
};

Result<BackupInfo> backupNamed(const Options& options) {
    const std::string& folder = options.from.empty() ? options.shop.folder : options.from;
    const auto backups = options.from.empty() ? storage::listBackups(folder) : storage::listBackupsIn(folder);
    if (!backups)
        return core::fail(backups.error().code, folder + ": " + backups.error().detail);
    if (backups->empty())
        return core::fail(ErrorCode::NotFound, folder + ": there is no backup in it");
    if (options.backup == "newest")
        return backups->front();
    const auto found = std::find_if(backups->begin(), backups->end(), [&](const BackupInfo& backup) {
        return backup.folder.filename() == options.backup;
    });
    if (found == backups->end())
        return core::fail(ErrorCode::InvalidInput,
                          "--backup: '" + options.backup +
                              "' is none of the shop's backups; expected newest, or a name "
                              "that milehold-cli backup --list shows");
    return *found;
}

void answerSalvage(Session& session, const Options& options, const storage::SalvageReport& report) {
    if (session.format == Format::Json) {
        JsonWriter json(session.out);
        json.object([&] {
            json.field("damaged", report.damaged.filename().string());
            json.array("tables", [&] {
                for (const auto& table : report.tables)
                    json.object([&] {
                        json.field("table", table.name);
                        json.field("saved", static_cast<double>(table.saved));
                        json.field("from_backup", static_cast<double>(table.fromBackup));
                        json.field("refused", static_cast<double>(table.refused));
                        json.field("has_gap", table.hasGap);
                    });
            });
            json.field("change_log_kept", static_cast<double>(report.logKept));
            json.field("change_log_aside", static_cast<double>(report.logAside));
            json.field("break_a_rule", static_cast<double>(report.breakARule));
        });
        session.out += '\n';
        return;
    }
    session.out = options.shop.folder + ": salvaged " + std::to_string(report.jobs()) +
                  " jobs; the damaged file and this report lie in " + report.damaged.filename().string() +
                  "\n" + report.text();
}

Result<void> runSalvage(Session& session, const Options& options) {
    Result<storage::SalvageReport> report;
    const auto done = withQt([&]() -> Result<void> {
        report = storage::salvageShop(options.shop.folder, storage::machineNow());
        if (!report)
            return core::fail(report.error().code, options.shop.folder + ": " + report.error().detail);
        return {};
    });
    if (done)
        answerSalvage(session, options, *report);
    return done;
}

Result<void> runTrial(Session& session, const Options& options, const BackupInfo& backup) {
    const auto done =
        withQt([&] { return storage::testRestore(options.shop.folder, backup, storage::machineNow()); });
    if (!done)
        return core::fail(done.error().code, options.shop.folder + ": " + backup.folder.filename().string() +
                                                 ": " + done.error().detail);
    if (session.format == Format::Json) {
        JsonWriter json(session.out);
        json.object([&] {
            json.field("sound", true);
            json.field("backup", backup.folder.filename().string());
            json.field("jobs", static_cast<double>(backup.jobs()));
        });
        session.out += '\n';
        return {};
    }
    session.out = options.shop.folder + ": " + backup.folder.filename().string() +
                  " was restored on trial and is sound, " + std::to_string(backup.jobs()) + " jobs\n";
    return {};
}

Result<void> run(Session& session, const Options& options) {
    if (options.salvage != options.backup.empty())
        return core::fail(ErrorCode::InvalidInput, "expected either --backup NAME or --salvage");
    if (options.salvage)
        return runSalvage(session, options);
    const auto backup = backupNamed(options);
    if (!backup)
        return core::failureOf(backup);
    if (options.trial)
        return runTrial(session, options, *backup);
    Result<std::filesystem::path> replaced;
    const auto done = withQt([&]() -> Result<void> {
        replaced = storage::restoreBackup(options.shop.folder, *backup);
        if (!replaced)
            return core::fail(replaced.error().code, options.shop.folder + ": " + replaced.error().detail);
        return {};
    });
    if (!done)
        return done;
    const std::string name = backup->folder.filename().string();
    if (session.format == Format::Json) {
        JsonWriter json(session.out);
        json.object([&] {
            json.field("backup", name);
            json.field("at", core::toIso(backup->at));
            json.field("jobs", static_cast<double>(backup->jobs()));
            json.field("replaced", replaced->filename().string());
        });
        session.out += '\n';
        return {};
    }
    session.out = options.shop.folder + ": the records of " + core::toIso(backup->at) + " are back, " +
                  std::to_string(backup->jobs()) + " jobs" +
                  (replaced->empty() ? "; there was nothing to replace"
                                     : "; what they replaced lies in " + replaced->filename().string()) +
                  "\n";
    return {};
}

} // namespace

Action setUpRestore(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addShopInput(command, options->shop);
    command.add_option("--backup", options->backup, "which: newest, or a name that backup --list shows")
        ->type_name("NAME");
    command.add_option("--from", options->from, "a folder of backups elsewhere, as on another disk")
        ->type_name("FOLDER");
    command.add_flag("--trial", options->trial,
                     "restore the backup elsewhere, check it, and remove it again");
    command.add_flag("--salvage", options->salvage,
                     "read what is readable of a damaged shop into a new one; the damaged file is kept");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
