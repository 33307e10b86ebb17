// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/import_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/shop_input.h"
#include "storage/exchange/records_file.h"

#include <CLI/CLI.hpp>

#include <memory>
#include <ostream>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;
using storage::ImportReport;

namespace {

struct Options {
    ShopInput shop;
    std::string what;
    std::string csv;
    storage::ImportOptions how;
};

/// Each bad row is a sentence of its own on standard error.
Result<void> refuseBadRows(Session& session, const Options& options, const ImportReport& report) {
    const std::string name = storage::nameOfSource(options.csv);
    for (const auto& bad : report.bad) {
        session.err << "milehold-cli: " << name << ':' << bad.line << ": ";
        if (!bad.column.empty())
            session.err << "column " << bad.column << ": ";
        session.err << bad.what << '\n';
    }
    return core::fail(ErrorCode::InvalidInput, name + ": " + std::to_string(report.bad.size()) +
                                                   (report.bad.size() == 1 ? " fault" : " faults") + " in " +
                                                   std::to_string(report.rows) +
                                                   " rows; nothing was written");
}

void answer(Session& session, const Options& options, const ImportReport& report) {
    if (session.format == Format::Json) {
        JsonWriter json(session.out);
        json.object([&] {
            json.field("rows", static_cast<double>(report.rows));
            json.field("added", static_cast<double>(report.added));
            json.field("changed", static_cast<double>(report.changed));
            json.field("there", static_cast<double>(report.there));
            json.field("kept", report.kept);
        });
        session.out += '\n';
        return;
    }
    session.out = std::to_string(report.rows) + " rows: " + std::to_string(report.added) + " added, " +
                  std::to_string(report.changed) + " changed, " + std::to_string(report.there) +
                  " there already" + (options.how.dryRun ? "; a dry run, nothing was written" : "") + "\n";
}

Result<void> run(Session& session, const Options& options) {
    if (options.what == "lives")
        return core::fail(ErrorCode::InvalidInput,
                          "lives are derived from jobs and cannot be imported; a lives table is "
                          "read by the other commands with --csv");
    const auto file = storage::recordFileFromCode(options.what);
    if (!file)
        return core::fail(
            ErrorCode::InvalidInput,
            "'" + options.what +
                "' cannot be imported; expected customers, vehicles, jobs, follow-ups or odometers");
    auto source = storage::openBytes(options.csv);
    if (!source)
        return core::failureOf(source);
    ImportReport report;
    const auto done = withShop(options.shop, [&](storage::Shop& shop) -> Result<void> {
        if (!options.how.dryRun && shop.changedSinceBackup()) {
            if (auto kept = shop.backUp(storage::BackupReason::BeforeImport); !kept)
                return core::failureOf(kept);
        }
        auto imported = storage::importRecords(shop, *file, std::move(*source),
                                               storage::nameOfSource(options.csv), options.how);
        if (!imported)
            return core::failureOf(imported);
        report = std::move(*imported);
        return {};
    });
    if (!done)
        return done;
    if (!report.bad.empty())
        return refuseBadRows(session, options, report);
    answer(session, options, report);
    return {};
}

} // namespace

Action setUpImport(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    command.add_option("what", options->what, "customers, vehicles, jobs, follow-ups or odometers")
        ->required();
    addShopInput(command, options->shop);
    command.add_option("--csv", options->csv, "the file to read; - is standard input")
        ->type_name("FILE")
        ->required();
    command.add_flag("--dry-run", options->how.dryRun, "try every row and write nothing");
    command.add_flag("--update", options->how.update,
                     "rows with the key of a record that differs replace it");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
