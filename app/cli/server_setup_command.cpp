// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/server_setup_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/shop_input.h"
#include "storage/server/setup_server.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

struct Options {
    std::string to;
    std::string name;
    std::string unit = "miles";
    std::string currency = "USD";
};

Result<std::optional<core::ShopSettings>> settingsOf(const Options& options) {
    if (options.name.empty())
        return std::optional<core::ShopSettings>();
    core::ShopSettings settings;
    settings.name = options.name;
    settings.currency = options.currency;
    if (options.unit != "miles" && options.unit != "kilometres")
        return core::fail(ErrorCode::InvalidInput,
                          "--unit: '" + options.unit + "' is unknown; expected miles or kilometres");
    settings.unit = options.unit == "miles" ? core::DistanceUnit::Miles : core::DistanceUnit::Kilometres;
    return std::optional(settings);
}

Result<void> run(Session& session, const Options& options) {
    const auto settings = settingsOf(options);
    if (!settings)
        return core::failureOf(settings);
    Result<storage::ServerSetup> setup;
    const auto done = withQt([&]() -> Result<void> {
        setup = storage::setUpServer(options.to, *settings);
        if (!setup)
            return core::fail(setup.error().code, "--to: " + setup.error().detail);
        return {};
    });
    if (!done)
        return done;
    if (session.format == Format::Json) {
        JsonWriter json(session.out);
        json.object([&] {
            json.field("schema_before", static_cast<double>(setup->from));
            json.field("schema", static_cast<double>(setup->to));
            json.field("shop", settings->has_value() ? (*settings)->name : std::string());
        });
        session.out += '\n';
        return {};
    }
    session.out = setup->from == setup->to ? "The schema " + std::to_string(setup->to) +
                                                 " was there already; roles and rights are set.\n"
                                           : "The schema went from " + std::to_string(setup->from) + " to " +
                                                 std::to_string(setup->to) + "; roles and rights are set.\n";
    if (setup->madeShop)
        session.out += "A new shop is in it: " + (*settings)->name + ".\n";
    session.out +=
        "Make each person a log-in, and a member of shop_technician, shop_advisor or shop_owner.\n";
    return {};
}

} // namespace

Action setUpServerSetup(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    command.add_option("--to", options->to, "the database: postgresql://keeper@host:port/database")
        ->type_name("URL")
        ->required();
    command.add_option("--name", options->name,
                       "make a new shop of this name in it (default: none, for a move)");
    command.add_option("--unit", options->unit, "of the new shop: miles or kilometres")
        ->capture_default_str();
    command.add_option("--currency", options->currency, "of the new shop, ISO 4217")->capture_default_str();
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
