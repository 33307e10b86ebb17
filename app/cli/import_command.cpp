// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/import_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/shop_input.h"
#include "storage/exchange/records_file.h"
#include "storage/exchange/whole_shop.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <filesystem>
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
    std::string folder; ///< of `everything`
    std::vector<std::string> map;
    bool guess = false;
    storage::ImportOptions how;
};

/// Each bad row is a sentence of its own on standard error.
void listBadRows(Session& session, const Options& options, const ImportReport& report) {
    const std::string name = storage::nameOfSource(options.csv);
    for (const auto& bad : report.bad) {
        session.err << "milehold-cli: " << name << ':' << bad.line << ": ";
        if (!bad.column.empty())
            session.err << "column " << bad.column << ": ";
        session.err << bad.what << '\n';
    }
}

Result<void> refuseBadRows(Session& session, const Options& options, const ImportReport& report) {
    listBadRows(session, options, report);
    const std::string name = storage::nameOfSource(options.csv);
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
            json.field("faults", static_cast<double>(report.bad.size()));
            json.field("kept", report.kept);
        });
        session.out += '\n';
        return;
    }
    session.out =
        std::to_string(report.rows) + " rows: " + std::to_string(report.added) + " added, " +
        std::to_string(report.changed) + " changed, " + std::to_string(report.there) + " there already" +
        (report.bad.empty() ? std::string() : ", " + std::to_string(report.bad.size()) + " faults left out") +
        (options.how.dryRun ? "; a dry run, nothing was written" : "") + "\n";
}

/// The columns as --map and --guess name them; empty when neither was given.
Result<std::optional<std::vector<std::string>>> mapped(storage::RecordFile file, const Options& options) {
    if (options.map.empty() && !options.guess)
        return std::optional<std::vector<std::string>>();
    if (options.csv == "-")
        return core::fail(ErrorCode::InvalidInput,
                          "--csv -: --map and --guess look at the header first; expected a file");
    auto source = storage::openBytes(options.csv);
    if (!source)
        return core::failureOf(source);
    const auto start = storage::readStart(std::move(*source), storage::nameOfSource(options.csv), 0);
    if (!start)
        return core::failureOf(start);
    std::vector<std::string> columns(start->header.size());
    if (options.guess)
        columns = storage::guessColumns(file, start->header);
    const auto known = storage::columnsOf(file);
    for (const auto& pair : options.map) {
        const auto equals = pair.rfind('=');
        const auto theirs = std::ranges::find(start->header, pair.substr(0, equals));
        const std::string ours = equals == std::string::npos ? std::string() : pair.substr(equals + 1);
        if (equals == std::string::npos || theirs == start->header.end())
            return core::fail(ErrorCode::InvalidInput,
                              "--map: expected THEIRS=OURS with a column of the file before the =");
        if (!ours.empty() && std::ranges::find(known, ours) == known.end())
            return core::fail(ErrorCode::InvalidInput,
                              "--map: '" + ours + "' is no column of " + options.what);
        for (auto& column : columns)
            if (column == ours)
                column.clear();
        columns[static_cast<std::size_t>(theirs - start->header.begin())] = ours;
    }
    return std::optional(std::move(columns));
}

/// A folder that `export everything` wrote, as a new shop.
Result<void> importEverything(Session& session, const Options& options) {
    if (options.folder.empty() || !options.csv.empty())
        return core::fail(ErrorCode::InvalidInput,
                          "everything comes from a folder: --from was expected, and no --csv");
    std::error_code problem;
    if (std::filesystem::exists(options.shop.folder, problem))
        return core::fail(ErrorCode::InvalidInput,
                          options.shop.folder + ": exists; everything goes into a shop that is made for it");
    core::ShopSettings settings;
    settings.name = std::filesystem::path(options.shop.folder).stem().string();
    std::size_t rows = 0;
    const auto done = withNewShop(options.shop.folder, settings, [&](storage::Shop& shop) -> Result<void> {
        const auto taken = storage::importWhole(options.folder, shop);
        if (!taken)
            return core::failureOf(taken);
        rows = *taken;
        return {};
    });
    if (!done) {
        std::filesystem::remove_all(options.shop.folder, problem);
        return done;
    }
    if (session.format == Format::Json) {
        JsonWriter json(session.out);
        json.object([&] { json.field("records", static_cast<double>(rows)); });
        session.out += '\n';
        return {};
    }
    session.out = options.shop.folder + ": " + std::to_string(rows) + " records\n";
    return {};
}

Result<void> run(Session& session, const Options& options) {
    if (options.what == "everything")
        return importEverything(session, options);
    if (options.csv.empty() || !options.folder.empty())
        return core::fail(ErrorCode::InvalidInput, "--csv is missing: the file to read; - is standard input");
    if (options.what == "lives")
        return core::fail(ErrorCode::InvalidInput,
                          "lives are derived from jobs and cannot be imported; a lives table is "
                          "read by the other commands with --csv");
    const auto file = storage::recordFileFromCode(options.what);
    if (!file)
        return core::fail(ErrorCode::InvalidInput, "'" + options.what +
                                                       "' cannot be imported; expected customers, vehicles, "
                                                       "jobs, follow-ups, odometers or everything");
    storage::ImportOptions how = options.how;
    auto columns = mapped(*file, options);
    if (!columns)
        return core::failureOf(columns);
    how.columns = std::move(*columns);
    auto source = storage::openBytes(options.csv);
    if (!source)
        return core::failureOf(source);
    ImportReport report;
    const auto done = withShop(options.shop, [&](storage::Shop& shop) -> Result<void> {
        if (!options.how.dryRun && shop.changedSinceBackup()) {
            if (auto kept = shop.backUp(storage::BackupReason::BeforeImport); !kept)
                return core::failureOf(kept);
        }
        auto imported =
            storage::importRecords(shop, *file, std::move(*source), storage::nameOfSource(options.csv), how);
        if (!imported)
            return core::failureOf(imported);
        report = std::move(*imported);
        return {};
    });
    if (!done)
        return done;
    if (!report.bad.empty() && !options.how.goodRowsOnly)
        return refuseBadRows(session, options, report);
    listBadRows(session, options, report);
    answer(session, options, report);
    return {};
}

} // namespace

Action setUpImport(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    command
        .add_option("what", options->what, "customers, vehicles, jobs, follow-ups, odometers or everything")
        ->required();
    addShopInput(command, options->shop);
    command.add_option("--csv", options->csv, "the file to read; - is standard input")->type_name("FILE");
    command.add_option("--from", options->folder, "everything: a folder that an export of everything wrote")
        ->type_name("FOLDER");
    command
        .add_option("--map", options->map,
                    "which column of ours a column of the file is; nothing after the = leaves it out")
        ->type_name("THEIRS=OURS")
        ->expected(1)
        ->take_all();
    command.add_flag("--guess", options->guess,
                     "take the columns for what their names mean, and leave out the others");
    command.add_flag("--good-rows", options->how.goodRowsOnly,
                     "leave out and list the rows that cannot be taken, and keep the others");
    command.add_flag("--dry-run", options->how.dryRun, "try every row and write nothing");
    command.add_flag("--update", options->how.update,
                     "rows with the key of a record that differs replace it");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
