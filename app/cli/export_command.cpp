// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/export_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/shop_input.h"
#include "storage/exchange/records_file.h"
#include "storage/exchange/shop_lives.h"
#include "storage/exchange/support_file.h"
#include "storage/exchange/table_sink.h"
#include "storage/exchange/whole_shop.h"
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
    std::string xlsx;   ///< blank: none
    std::string folder; ///< of `everything`
    std::string to;     ///< of `support`
    std::string by = "path";
    bool anonymous = false;
    bool days = false;
};

/// What `export` and `import` can be asked for, as a list in words.
std::string kinds() {
    return "customers, vehicles, jobs, follow-ups, odometers, lives, everything or support";
}

Result<std::size_t> write(storage::Shop& shop, const Options& options, storage::TableSink& out) {
    if (options.what == "lives") {
        const auto today = dateOption("--today", options.shop.today, localToday());
        if (!today)
            return core::failureOf(today);
        return storage::exportLives(shop, {.today = *today, .by = options.by, .days = options.days}, out);
    }
    const auto file = storage::recordFileFromCode(options.what);
    return storage::exportRecords(shop, *file, out, {options.anonymous});
}

Result<void> checkOptions(const Session& session, const Options& options) {
    const bool isEverything = options.what == "everything";
    const bool isSupport = options.what == "support";
    if (!isEverything && !isSupport && options.what != "lives" && !storage::recordFileFromCode(options.what))
        return core::fail(ErrorCode::InvalidInput,
                          "'" + options.what + "' cannot be exported; expected " + kinds());
    if (isEverything != !options.folder.empty())
        return core::fail(ErrorCode::InvalidInput, isEverything
                                                       ? "everything goes into a folder: --into is missing"
                                                       : "--into: a folder is for everything alone");
    if (isSupport != !options.to.empty())
        return core::fail(ErrorCode::InvalidInput, isSupport ? "support goes into one file: --to is missing"
                                                             : "--to: a file is for support alone");
    if (isSupport && (options.csv != "-" || !options.xlsx.empty() || options.anonymous))
        return core::fail(
            ErrorCode::InvalidInput,
            "support: neither --csv, --xlsx nor --anonymous were expected; nobody is named in it");
    if (isEverything && (options.csv != "-" || !options.xlsx.empty() || options.anonymous))
        return core::fail(ErrorCode::InvalidInput,
                          "everything: neither --csv, --xlsx nor --anonymous were expected");
    if (options.days && options.what != "lives")
        return core::fail(ErrorCode::InvalidInput,
                          "--days: expected with lives alone, which have days of watch");
    if (!options.xlsx.empty() && options.csv != "-")
        return core::fail(ErrorCode::InvalidInput, "--csv and --xlsx: one of them was expected");
    if (session.format == Format::Csv &&
        (options.csv != "-" || !options.xlsx.empty() || isEverything || isSupport))
        return core::fail(ErrorCode::InvalidInput,
                          "--format csv: the table goes to a file already; expected text or json");
    for (const auto& file : {options.csv, options.xlsx, options.folder, options.to}) {
        std::error_code problem;
        if (file != "-" && !file.empty() && std::filesystem::exists(file, problem))
            return core::fail(ErrorCode::InvalidInput, file + ": exists; expected a name that is free");
    }
    return {};
}

/// What was written, into what.
void answer(Session& session, const std::string& file, std::size_t rows, const std::string& what) {
    if (session.format != Format::Json) {
        session.out = file + ": " + std::to_string(rows) + " " + what + "\n";
        return;
    }
    JsonWriter json(session.out);
    json.object([&] {
        json.field("file", file);
        json.field("rows", static_cast<double>(rows));
    });
    session.out += '\n';
}

Result<void> run(Session& session, const Options& options) {
    if (auto checked = checkOptions(session, options); !checked)
        return checked;
    const bool isEverything = options.what == "everything";
    const bool isSupport = options.what == "support";
    std::ostringstream table;
    std::string bytes;
    std::size_t rows = 0;
    const auto done = withShop(options.shop, [&](storage::Shop& shop) -> Result<void> {
        Result<std::size_t> written = 0;
        if (isEverything) {
            written = storage::exportWhole(shop, options.folder);
        } else if (isSupport) {
            written = storage::exportSupport(shop, options.to);
        } else if (options.xlsx.empty()) {
            storage::CsvSink sink(table);
            written = write(shop, options, sink);
            bytes = std::move(table).str();
        } else {
            storage::XlsxSink sink(options.what);
            written = write(shop, options, sink);
            bytes = sink.bytes();
        }
        if (!written)
            return core::failureOf(written);
        rows = *written;
        return {};
    });
    if (!done)
        return done;
    if (isEverything || isSupport) {
        answer(session, isSupport ? options.to : options.folder, rows,
               isSupport ? "rows, nobody named" : "records");
        return {};
    }
    const std::string& file = options.xlsx.empty() ? options.csv : options.xlsx;
    if (file == "-") {
        session.out = std::move(bytes);
        return {};
    }
    if (auto kept = storage::createFile(file, bytes); !kept)
        return core::fail(kept.error().code, file + ": " + kept.error().detail);
    answer(session, file, rows, options.what);
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
    command.add_option("--xlsx", options->xlsx, "write a workbook instead: numbers and dates as such")
        ->type_name("FILE");
    command.add_option("--into", options->folder, "everything: the folder to make")->type_name("FOLDER");
    command.add_option("--to", options->to, "support: the file to write, in which nobody is named")
        ->type_name("FILE");
    command.add_option("--by", options->by, "lives: the facet in column group")
        ->type_name("FACET")
        ->capture_default_str();
    command.add_flag("--days", options->days,
                     "lives: add the days since the first repair (entered) and watched (days), for "
                     "early-warning");
    command.add_flag("--anonymous", options->anonymous, "leave out all that tells who somebody is");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
