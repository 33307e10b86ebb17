// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/restore_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/shop_input.h"
#include "storage/backup.h"

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
};

Result<BackupInfo> backupNamed(const Options& options) {
    const std::string& folder = options.shop.folder;
    const auto backups = storage::listBackups(folder);
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

Result<void> run(Session& session, const Options& options) {
    const auto backup = backupNamed(options);
    if (!backup)
        return core::failureOf(backup);
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
                  std::to_string(backup->jobs()) + " jobs; what they replaced lies in " +
                  replaced->filename().string() + "\n";
    return {};
}

} // namespace

Action setUpRestore(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addShopInput(command, options->shop);
    command.add_option("--backup", options->backup, "which: newest, or a name that backup --list shows")
        ->type_name("NAME")
        ->required();
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
