// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/verify_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/shop_input.h"
#include "storage/backup.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

struct Options {
    ShopInput shop;
};

Result<void> run(Session& session, const Options& options) {
    std::int64_t rows = 0;
    std::size_t backups = 0;
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
        if (!problems.empty())
            return core::fail(ErrorCode::Unreadable, options.shop.folder + ": " + problems);
        rows = report->rows;
        backups = copies->size();
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
        });
        session.out += '\n';
        return {};
    }
    session.out = options.shop.folder + ": sound; " + std::to_string(rows) + " rows, the change log whole, " +
                  std::to_string(backups) + " backups verified\n";
    return {};
}

} // namespace

Action setUpVerify(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addShopInput(command, options->shop);
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
