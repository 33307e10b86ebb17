// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/quote_command.h"

#include "app/cli/lives_input.h"
#include "app/cli/quote_answer.h"
#include "app/cli/shop_input.h"
#include "core/life/life.h"
#include "core/quote/on_the_road.h"
#include "core/shop/finding_list.h"
#include "core/shop/names.h"
#include "storage/life_store.h"
#include "storage/shelf_store.h"
#include "storage/vehicle_store.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <memory>
#include <optional>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

struct Options {
    ShopInput shop;
    std::string vin;
    std::string family;
    std::optional<int> year;
    std::string yearlyMiles;
    std::string calibration;
    std::string at;
    std::string horizon;
    std::string level = "0.95";
    bool project = false;
};

std::string lowered(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

Result<const core::EngineFamily*> familyOption(const std::string& name, const core::Shelf& shelf) {
    std::string known;
    for (const core::EngineFamily& family : shelf.families) {
        if (lowered(family.name) == lowered(name))
            return &family;
        known += (known.empty() ? "" : ", ") + family.name;
    }
    return core::fail(ErrorCode::InvalidInput,
                      "--family: '" + name + "' is not on the shelf; expected " +
                          (known.empty() ? "an engine family, and there is none yet" : "one of " + known));
}

/// Whole marks in the shop's unit.
Result<std::vector<std::int64_t>> marksOption(std::string_view option, const std::string& text) {
    const auto numbers = mileagesOption(option, text);
    if (!numbers)
        return core::failureOf(numbers);
    std::vector<std::int64_t> marks;
    for (const double number : *numbers) {
        if (number < 1 || number != std::floor(number) || number > 1e9)
            return core::fail(ErrorCode::InvalidInput, std::string(option) + ": '" + text +
                                                           "' must hold whole distances of 1 or more");
        marks.push_back(static_cast<std::int64_t>(number));
    }
    return marks;
}

/// All that the shop knows of the vehicle, and the repair that it runs on.
Result<core::QuoteSubject> subjectByVin(storage::Shop& shop, const std::string& vin,
                                        const std::vector<core::LifeRecord>& lives,
                                        const core::ShopSettings& settings, core::Date today,
                                        std::string& label) {
    const auto vehicle = shop.vehicles().findByVin(vin);
    if (!vehicle)
        return core::failureOf(vehicle);
    if (!*vehicle)
        return core::fail(ErrorCode::NotFound, "--vin: no vehicle of this shop has this VIN");
    const auto history = shop.vehicles().history((*vehicle)->id);
    if (!history)
        return core::failureOf(history);
    core::QuoteSubject subject;
    subject.family = (*vehicle)->family;
    subject.modelYear = (*vehicle)->modelYear;
    subject.yearly = core::yearlyDistance(*history, settings, today);
    label = core::vehicleName((*vehicle)->modelYear, (*vehicle)->maker, (*vehicle)->model);
    subject.calibration = core::calibrationNow(*history);
    std::vector<core::LifeRecord> own;
    std::ranges::copy_if(lives, std::back_inserter(own), [&](const core::LifeRecord& record) {
        return record.life.vehicle == (*vehicle)->id;
    });
    if (const core::LifeRecord* running = core::runningLife(own))
        subject.running = *running;
    return subject;
}

Result<void> quote(Session& session, const Options& options, storage::Shop& shop) {
    const auto today = dateOption("--today", options.shop.today, localToday());
    if (!today)
        return core::failureOf(today);
    const auto settings = shop.settings();
    if (!settings)
        return core::failureOf(settings);
    const auto shelf = shop.shelf().load();
    if (!shelf)
        return core::failureOf(shelf);
    const auto lives = shop.lives().records(*today);
    if (!lives)
        return core::failureOf(lives);

    if (options.year && (*options.year < core::kFirstModelYear || *options.year > core::kLastModelYear))
        return core::fail(ErrorCode::InvalidInput, "--year: '" + std::to_string(*options.year) +
                                                       "' is no model year; expected four figures, as 2018");

    core::QuoteSubject subject;
    QuoteFrame frame;
    frame.currency = settings->currency;
    if (!options.vin.empty()) {
        auto known = subjectByVin(shop, options.vin, *lives, *settings, *today, frame.vehicle);
        if (!known)
            return core::failureOf(known);
        subject = std::move(*known);
    } else {
        const auto family = familyOption(options.family, *shelf);
        if (!family)
            return core::failureOf(family);
        subject.family = (*family)->id;
        subject.yearly.perYear = settings->defaultYearly;
        frame.vehicle =
            (*family)->name + (options.year ? " " + std::to_string(*options.year) : std::string());
    }
    if (options.year)
        subject.modelYear = options.year;
    if (!options.calibration.empty())
        subject.calibration = options.calibration;
    if (!options.yearlyMiles.empty()) {
        const auto miles = numberOption("--yearly-miles", options.yearlyMiles);
        if (!miles)
            return core::failureOf(miles);
        if (*miles < 1 || *miles > 1e6)
            return core::fail(ErrorCode::InvalidInput, "--yearly-miles: '" + options.yearlyMiles +
                                                           "' must lie between 1 and 1,000,000");
        subject.yearly = {core::Distance::from(std::llround(*miles), settings->unit),
                          core::YearlySource::Told, 0};
    }

    core::QuoteOptions how;
    how.unit = settings->unit;
    how.dataDate = *today;
    const auto level = shareOption("--level", options.level);
    if (!level)
        return core::failureOf(level);
    how.level = *level;
    auto marks = marksOption("--at", options.at);
    if (!marks)
        return core::failureOf(marks);
    if (!marks->empty())
        how.marks = std::move(*marks);
    const auto horizon = marksOption("--horizon", options.horizon);
    if (!horizon)
        return core::failureOf(horizon);
    if (horizon->size() > 1)
        return core::fail(ErrorCode::InvalidInput,
                          "--horizon: '" + options.horizon + "' must be one distance");
    if (!horizon->empty())
        how.horizon = horizon->front();
    how.project = options.project;
    const auto made = core::makeQuote(*lives, subject, *shelf, *settings, how);
    if (!made)
        return core::failureOf(made);
    for (const core::LifeRecord& record : *lives)
        frame.jobNumbers.emplace(record.life.job, record.jobNumber);
    answerQuote(session, *made, frame);
    return {};
}

Result<void> run(Session& session, const Options& options) {
    if (options.vin.empty() == options.family.empty())
        return core::fail(ErrorCode::InvalidInput, "expected either --vin or --family");
    return withShop(options.shop, [&](storage::Shop& shop) { return quote(session, options, shop); });
}

} // namespace

Action setUpQuote(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addShopInput(command, options->shop);
    command.add_option("--vin", options->vin, "a vehicle of the shop");
    command.add_option("--family", options->family, "or any vehicle with this engine")->type_name("NAME");
    command.add_option("--year", options->year, "its model year");
    command
        .add_option("--yearly-miles", options->yearlyMiles,
                    "how far it is driven in a year, in the shop's unit (default: from its odometers, else "
                    "the shop's "
                    "default)")
        ->type_name("MILES");
    command.add_option("--calibration", options->calibration, "on its engine computer now")->type_name("ID");
    command.add_option("--at", options->at, "distances to quote, in the shop's unit")
        ->type_name("DISTANCE,...");
    command.add_option("--horizon", options->horizon, "what the sentence speaks of (default: two years)")
        ->type_name("DISTANCE");
    command.add_option("--level", options->level, "two-sided level of the limits")
        ->type_name("SHARE")
        ->capture_default_str();
    command.add_flag("--project", options->project,
                     "go on by a model where too few were watched; named a projection");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
