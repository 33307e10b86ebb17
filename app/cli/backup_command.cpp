// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/backup_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/sheet.h"
#include "app/cli/shop_input.h"
#include "storage/backup_shelf.h"
#include "storage/machine_clock.h"
#include "storage/off_machine.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace milehold::cli {

using core::Result;
using storage::BackupInfo;

namespace {

struct Options {
    ShopInput shop;
    bool list = false;
    std::string to;
};

void answer(Session& session, const std::vector<BackupInfo>& backups) {
    if (session.format == Format::Json) {
        JsonWriter json(session.out);
        json.object([&] {
            json.array("backups", [&] {
                for (const auto& backup : backups)
                    json.object([&] {
                        json.field("name", backup.folder.filename().string());
                        json.field("at", core::toIso(backup.at));
                        json.field("jobs", static_cast<double>(backup.jobs()));
                        json.field("bytes", static_cast<double>(backup.bytes));
                        json.field("sha256", backup.sha256);
                        json.field("warning", backup.warning);
                    });
            });
        });
        session.out += '\n';
        return;
    }
    Sheet sheet{"Backups, newest first", "backups", {"name", "at", "jobs", "bytes", "warning"}, {}};
    for (const auto& backup : backups)
        sheet.rows.push_back({backup.folder.filename().string(), core::toIso(backup.at),
                              static_cast<double>(backup.jobs()), static_cast<double>(backup.bytes),
                              backup.warning});
    appendSheets(session, {sheet});
}

Result<void> run(Session& session, const Options& options) {
    if (options.list) {
        const auto backups = storage::listBackups(options.shop.folder);
        if (!backups)
            return core::fail(backups.error().code, options.shop.folder + ": " + backups.error().detail);
        answer(session, *backups);
        return {};
    }
    return withShop(options.shop, [&](storage::Shop& shop) -> Result<void> {
        auto made = shop.backUp(storage::BackupReason::OnDemand);
        if (!made)
            return core::failureOf(made);
        answer(session, {*made});
        if (options.to.empty())
            return {};
        const auto copy =
            storage::copyOffMachine(options.shop.folder, *made, options.to, storage::machineNow());
        if (!copy)
            return core::fail(copy.error().code, options.to + ": " + copy.error().detail);
        if (copy->sameDisk)
            session.err << "milehold-cli: " << options.to
                        << ": lies on the same disk as the shop; expected another one\n";
        if (session.format == Format::Text)
            session.out += "copied to " + copy->folder.string() + " and read back\n";
        return {};
    });
}

} // namespace

Action setUpBackup(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addShopInput(command, options->shop);
    command.add_option("--to", options->to, "copy it to this folder on another disk as well")
        ->type_name("FOLDER");
    command.add_flag("--list", options->list, "list the backups there are, make none");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
