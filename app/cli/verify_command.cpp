// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/verify_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/shop_input.h"
#include "storage/attachment_store.h"
#include "storage/backup_shelf.h"
#include "storage/machine_clock.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

struct Options {
    ShopInput shop;
    bool sweep = false;
};

Result<void> run(Session& session, const Options& options) {
    std::int64_t rows = 0;
    std::size_t backups = 0;
    std::size_t swept = 0;
    const auto done = withShop(options.shop, [&](storage::Shop& shop) -> Result<void> {
        const auto report = shop.verify(storage::CheckDepth::Full);
        if (!report)
            return core::failureOf(report);
        std::string problems;
        for (const auto& problem : report->problems)
            problems += (problems.empty() ? "" : "; ") + problem;
        const auto copies = shop.backups();
        if (!copies)
            return core::failureOf(copies);
        for (const auto& copy : *copies)
            if (const auto sound = storage::verifyBackup(copy); !sound)
                problems += (problems.empty() ? "" : "; ") + copy.folder.filename().string() + ": " +
                            sound.error().detail;
        const auto unread = storage::unreadableBackupsIn(shop.folder() / "backups");
        if (!unread)
            return core::failureOf(unread);
        for (const auto& folder : *unread)
            problems +=
                (problems.empty() ? "" : "; ") + folder.filename().string() + ": its manifest cannot be read";
        if (!problems.empty())
            return core::fail(ErrorCode::Unreadable, options.shop.folder + ": " + problems);
        rows = report->rows;
        backups = copies->size();
        if (!options.sweep)
            return {};
        const auto removed = storage::sweepUnnamed(shop, storage::machineNow());
        if (!removed)
            return core::failureOf(removed);
        swept = *removed;
        return {};
    });
    if (!done)
        return done;
    if (session.format == Format::Json) {
        JsonWriter json(session.out);
        json.object([&] {
            json.field("sound", true);
            json.field("rows", static_cast<double>(rows));
            json.field("backups", static_cast<double>(backups));
            if (options.sweep)
                json.field("swept", static_cast<double>(swept));
        });
        session.out += '\n';
        return {};
    }
    session.out = options.shop.folder + ": sound; " + std::to_string(rows) + " rows, the change log whole, " +
                  std::to_string(backups) + " backups verified" +
                  (options.sweep ? "; " + std::to_string(swept) + " files that nobody names removed" : "") +
                  "\n";
    return {};
}

} // namespace

Action setUpVerify(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addShopInput(command, options->shop);
    command.add_flag(
        "--sweep", options->sweep,
        "when all is sound, remove the files that for 30 days neither a record nor a kept backup named");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
