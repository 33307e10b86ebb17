// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/export_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/shop_input.h"
#include "storage/exchange/records_file.h"
#include "storage/exchange/shop_lives.h"
#include "storage/files/durable.h"

#include <CLI/CLI.hpp>

#include <filesystem>
#include <memory>
#include <sstream>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

struct Options {
    ShopInput shop;
    std::string what;
    std::string csv = "-";
    std::string by = "path";
    bool anonymous = false;
};

/// What `export` and `import` can be asked for, as a list in words.
std::string kinds() {
    return "customers, vehicles, jobs, follow-ups, odometers or lives";
}

Result<std::size_t> write(storage::Shop& shop, const Options& options, std::ostream& out) {
    if (options.what == "lives") {
        const auto today = dateOption("--today", options.shop.today, localToday());
        if (!today)
            return core::failureOf(today);
        return storage::exportLives(shop, {*today, options.by, {}, {}}, out);
    }
    const auto file = storage::recordFileFromCode(options.what);
    return storage::exportRecords(shop, *file, out, {options.anonymous});
}

Result<void> run(Session& session, const Options& options) {
    if (options.what != "lives" && !storage::recordFileFromCode(options.what))
        return core::fail(ErrorCode::InvalidInput,
                          "'" + options.what + "' cannot be exported; expected " + kinds());
    if (session.format == Format::Csv && options.csv != "-")
        return core::fail(ErrorCode::InvalidInput,
                          "--format csv: the table goes to --csv already; expected text or json");
    std::error_code problem;
    if (options.csv != "-" && std::filesystem::exists(options.csv, problem))
        return core::fail(ErrorCode::InvalidInput, options.csv + ": exists; expected a name that is free");
    std::ostringstream table;
    std::size_t rows = 0;
    const auto done = withShop(options.shop, [&](storage::Shop& shop) -> Result<void> {
        const auto written = write(shop, options, table);
        if (!written)
            return core::failureOf(written);
        rows = *written;
        return {};
    });
    if (!done)
        return done;
    if (options.csv == "-") {
        session.out = std::move(table).str();
        return {};
    }
    if (auto kept = storage::createFile(options.csv, table.view()); !kept)
        return core::fail(kept.error().code, options.csv + ": " + kept.error().detail);
    if (session.format == Format::Json) {
        JsonWriter json(session.out);
        json.object([&] {
            json.field("file", options.csv);
            json.field("rows", static_cast<double>(rows));
        });
        session.out += '\n';
        return {};
    }
    session.out = options.csv + ": " + std::to_string(rows) + " " + options.what + "\n";
    return {};
}

} // namespace

Action setUpExport(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    command.add_option("what", options->what, kinds())->required();
    addShopInput(command, options->shop);
    command
        .add_option("--csv", options->csv,
                    "the file to write, for its owner's eyes only; - is standard output")
        ->type_name("FILE")
        ->capture_default_str();
    command.add_option("--by", options->by, "lives: the facet in column group")
        ->type_name("FACET")
        ->capture_default_str();
    command.add_flag("--anonymous", options->anonymous, "leave out all that tells who somebody is");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
