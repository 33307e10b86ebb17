// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/sample_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/shop_input.h"
#include "sample-shop/sample_shop.h"

#include <CLI/CLI.hpp>

#include <cstdio>
#include <filesystem>
#include <memory>
#include <ostream>
#include <unistd.h>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;
using sample::FollowUpHabit;

namespace {

struct Options {
    std::string folder;
    int jobs = 400;
    std::uint64_t seed = 1;
    std::string ends;
    std::string habit = "typical";
    bool csv = false;
};

struct HabitName {
    const char* name;
    FollowUpHabit habit;
};
constexpr HabitName kHabits[] = {{"typical", FollowUpHabit::Typical},
                                 {"only-unhappy", FollowUpHabit::OnlyUnhappy},
                                 {"everybody", FollowUpHabit::Everybody}};

Result<FollowUpHabit> habitOption(const std::string& text) {
    for (const HabitName& habit : kHabits)
        if (text == habit.name)
            return habit.habit;
    return core::fail(ErrorCode::InvalidInput,
                      "--follow-up: '" + text + "' is unknown; expected typical, only-unhappy or everybody");
}

/// One line that is written over, and only for somebody who watches.
sample::Progress progressOf(Session& session) {
    if (isatty(STDERR_FILENO) == 0)
        return {};
    return [&err = session.err](std::size_t done, std::size_t all) {
        err << "\rwriting record " << done << " of " << all << (done == all ? "\n" : "") << std::flush;
    };
}

void answer(Session& session, const Options& options, const sample::SampleShop& shop) {
    if (session.format == Format::Json) {
        JsonWriter json(session.out);
        json.object([&] {
            json.field("folder", options.folder);
            json.field("seed", static_cast<double>(options.seed));
            json.field("ends_on", core::toIso(shop.endsOn));
            json.field("customers", static_cast<double>(shop.customers.size()));
            json.field("vehicles", static_cast<double>(shop.vehicles.size()));
            json.field("jobs", static_cast<double>(shop.jobs.size()));
            json.field("follow_ups", static_cast<double>(shop.followUps.size()));
        });
        session.out += '\n';
        return;
    }
    session.out += options.folder + ": " + shop.settings.name + ", an invented shop, up to " +
                   core::toIso(shop.endsOn) + "\n" + std::to_string(shop.vehicles.size()) + " vehicles, " +
                   std::to_string(shop.jobs.size()) + " jobs, " + std::to_string(shop.followUps.size()) +
                   " calls; seed " + std::to_string(options.seed) + "\n";
}

Result<void> run(Session& session, const Options& options) {
    const auto habit = habitOption(options.habit);
    if (!habit)
        return core::failureOf(habit);
    const auto ends = dateOption("--ends", options.ends, localToday());
    if (!ends)
        return core::failureOf(ends);
    if (options.csv != options.folder.empty())
        return core::fail(ErrorCode::InvalidInput,
                          options.csv ? "--csv prints the lives; a folder is not written then"
                                      : "expected a folder NAME.milehold to write, or --csv");
    if (!options.csv && session.format == Format::Csv)
        return core::fail(ErrorCode::InvalidInput,
                          "--format csv: expected text or json, or --csv for the lives");
    const auto shop = sample::generate({options.jobs, options.seed, *ends, *habit});
    if (!shop)
        return core::failureOf(shop);
    if (options.csv) {
        auto table = sample::livesTable(*shop);
        if (!table)
            return core::failureOf(table);
        session.out = std::move(*table);
        return {};
    }
    // A folder that was there before is never touched; one that was begun here and failed is taken away
    // again.
    std::error_code ignored;
    const bool existed = std::filesystem::exists(options.folder, ignored);
    auto written = withNewShop(options.folder, shop->settings, [&](storage::Shop& target) {
        return sample::write(*shop, target, progressOf(session));
    });
    if (!written) {
        if (!existed)
            std::filesystem::remove_all(options.folder, ignored);
        return written;
    }
    answer(session, options, *shop);
    return {};
}

} // namespace

Action setUpSample(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    command.add_option("folder", options->folder, "the shop to write: a new folder NAME.milehold");
    command.add_option("--jobs", options->jobs, "how many timing repairs, about")->capture_default_str();
    command.add_option("--seed", options->seed, "the same seed gives the same shop")->capture_default_str();
    command.add_option("--ends", options->ends, "last day of its book (default: today)")
        ->type_name("YYYY-MM-DD");
    command.add_option("--follow-up", options->habit, "typical, only-unhappy or everybody")
        ->type_name("HABIT")
        ->capture_default_str();
    command.add_flag("--csv", options->csv, "print the lives with the truth beside them, write nothing");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
