// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/move_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/sheet.h"
#include "app/cli/shop_input.h"
#include "storage/server/move_shop.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace milehold::cli {

using core::Result;

namespace {

struct Options {
    std::string from;
    std::string to;
};

void answer(Session& session, const storage::MoveReport& report) {
    if (session.format == Format::Json) {
        JsonWriter json(session.out);
        json.object([&] {
            json.field("equal", true);
            json.field("change_log_rows", static_cast<double>(report.head.sequence));
            json.field("change_log_hash", report.head.hash);
            json.field("files", static_cast<double>(report.files));
            json.array("tables", [&] {
                for (const auto& table : report.tables)
                    json.object([&] {
                        json.field("table", table.name);
                        json.field("rows", static_cast<double>(table.rows));
                        json.field("from", table.from);
                        json.field("to", table.to);
                    });
            });
        });
        session.out += '\n';
        return;
    }
    Sheet sheet{"Every table, row by row: equal at both ends", "table", {"table", "rows", "from", "to"}, {}};
    for (const auto& table : report.tables)
        sheet.rows.push_back({table.name, static_cast<double>(table.rows), table.from, table.to});
    Sheet log{"Change log", "log", {"rows", "hash", "attached_files"}, {}};
    log.rows.push_back(
        {static_cast<double>(report.head.sequence), report.head.hash, static_cast<double>(report.files)});
    appendSheets(session, {sheet, log});
}

Result<void> run(Session& session, const Options& options) {
    return withQt([&]() -> Result<void> {
        const auto report = storage::moveShop(options.from, options.to);
        if (!report)
            return core::failureOf(report);
        answer(session, *report);
        return {};
    });
}

} // namespace

Action setUpMove(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    command
        .add_option("--from", options->from,
                    "the shop: a folder NAME.milehold, or postgresql://user@host/database")
        ->type_name("SHOP")
        ->required();
    command.add_option("--to", options->to, "where to: the same, new or empty")
        ->type_name("SHOP")
        ->required();
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
