// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/warranty_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/option_reader.h"
#include "app/cli/sheet.h"
#include "app/cli/warranty_shop.h"
#include "core/warranty/terms.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <memory>

namespace milehold::cli {

using core::ErrorCode;
using core::LifeModel;
using core::Result;

namespace {

constexpr const char* kYearlyColumn = "yearly_miles";

struct Options {
    LivesInput input;
    std::string months;
    std::string miles;
    std::string yearlyMiles;
    std::string jobs = "100";
    std::string costEach;
    std::string model = "weibull";
    std::string level = "0.95";
    std::uint64_t seed = 1;
};

struct Request {
    core::WarrantyTerms terms;
    core::WarrantyOptions options;
    std::vector<double> drivers;    ///< of the option; empty: the table's column, the shop's records
    std::optional<double> costEach; ///< of the option; empty: the shop's records
    std::string model;
};

struct GroupAnswer {
    std::string name;
    double lives = 0, comebacks = 0;
    std::optional<std::string> error;
    core::WarrantyCost cost;
    std::optional<double> costEach;
};

struct Answer {
    std::string unit, currency;
    double drivers = 0;
    std::vector<GroupAnswer> groups;
};

Result<Request> requestOf(const Options& options) {
    constexpr OptionReader::Word<LifeModel> kModels[] = {{"weibull", LifeModel::Weibull},
                                                         {"lognormal", LifeModel::Lognormal},
                                                         {"exponential", LifeModel::Exponential}};
    OptionReader read;
    Request request;
    request.terms.months = read.positive("--months", options.months);
    request.terms.miles = read.positive("--miles", options.miles);
    request.options.jobs = read.notNegative("--jobs", options.jobs);
    if (!options.costEach.empty())
        request.costEach = read.notNegative("--cost-each", options.costEach);
    request.drivers = read.mileages("--yearly-miles", options.yearlyMiles);
    request.options.level = read.share("--level", options.level);
    request.options.model = read.oneOf<LifeModel>("--model", options.model, kModels);
    request.options.seed = options.seed;
    request.model = options.model;
    if (!read.result())
        return core::failureOf(read.result());
    return request;
}

/// Yearly miles of every driver in the column of the table.
Result<std::vector<double>> driversOf(const storage::LivesTable& table) {
    const auto numbers = table.factors[0].numbers();
    if (!numbers || std::any_of(numbers->begin(), numbers->end(), [](double miles) { return miles < 0; }))
        return core::fail(ErrorCode::InvalidInput, std::string("column ") + kYearlyColumn +
                                                       ": not every cell is a number of 0 or more");
    std::vector<double> drivers;
    for (const std::uint32_t level : table.factors[0].level)
        drivers.push_back((*numbers)[level]);
    return drivers;
}

Result<WarrantyBasis> basisOfTable(Session& session, const Options& options, const Request& request) {
    storage::LivesTableOptions reading;
    if (request.drivers.empty())
        reading.factors = {kYearlyColumn};
    LivesInput input = options.input;
    input.keepIntervals = true; // the fit knows what to do with them
    const auto table = readLives(session, input, reading);
    if (!table)
        return core::failureOf(table);
    WarrantyBasis basis;
    auto groups = core::observationsByGroup(table->lives);
    for (std::size_t g = 0; g < groups.size(); ++g)
        basis.groups.push_back({table->lives.groupNames[g], std::move(groups[g]), {}, 0});
    if (request.drivers.empty()) {
        auto drivers = driversOf(*table);
        if (!drivers)
            return core::failureOf(drivers);
        basis.drivers = std::move(*drivers);
    }
    return basis;
}

Result<GroupAnswer> answerFor(const WarrantyGroup& group, const std::vector<double>& drivers,
                              const Request& request) {
    GroupAnswer answer;
    answer.name = group.name;
    answer.costEach = request.costEach ? request.costEach : group.costEach;
    for (const core::Observation& row : group.lives) {
        answer.lives += row.weight;
        answer.comebacks += row.cameBack() ? row.weight : 0;
    }
    core::WarrantyOptions options = request.options;
    options.costEach = answer.costEach.value_or(0);
    const auto cost = core::warrantyCost(group.lives, drivers, request.terms, options);
    if (cost)
        answer.cost = *cost;
    else if (cost.error().code == ErrorCode::InvalidInput)
        return core::failureOf(cost);
    else
        answer.error = cost.error().detail;
    return answer;
}

core::Estimate times(const core::Estimate& estimate, double factor) {
    return {estimate.value * factor, estimate.lower * factor, estimate.upper * factor};
}

/// What one group is asked for, by the names that JSON uses; no money where nobody has said what it costs.
std::vector<std::pair<const char*, std::optional<core::Estimate>>> estimatesOf(const GroupAnswer& group) {
    const auto money = [&](const core::Estimate& estimate) {
        return group.costEach ? std::optional(estimate) : std::nullopt;
    };
    return {{"share", group.cost.share},
            {"expected_comebacks", group.cost.comebacks},
            {"expected_cost", money(group.cost.money)},
            {"cost_a_job", money(times(group.cost.share, group.costEach.value_or(0)))}};
}

void writeJson(std::string& out, const Answer& answer, const Request& request) {
    JsonWriter json(out);
    json.object([&] {
        json.field("months", request.terms.months);
        json.field("miles", request.terms.miles);
        json.field("model", std::string_view(request.model));
        json.field("level", request.options.level);
        json.field("jobs", request.options.jobs);
        json.field("drivers", answer.drivers);
        if (!answer.unit.empty())
            json.field("unit", answer.unit);
        if (!answer.currency.empty())
            json.field("currency", answer.currency);
        json.array("groups", [&] {
            for (const GroupAnswer& group : answer.groups)
                json.object([&] {
                    json.field("group", std::string_view(group.name));
                    json.field("lives", group.lives);
                    json.field("comebacks", group.comebacks);
                    json.field("cost_each", group.costEach);
                    if (group.error) {
                        json.field("error", std::string_view(*group.error));
                        return;
                    }
                    for (const auto& [name, estimate] : estimatesOf(group)) {
                        if (!estimate) {
                            json.null(name);
                            continue;
                        }
                        json.object(name, [&, &e = *estimate] {
                            json.field("value", e.value);
                            json.field("lower", e.lower);
                            json.field("upper", e.upper);
                        });
                    }
                });
        });
    });
    out += '\n';
}

Sheet sheetOf(const Answer& answer) {
    Sheet sheet{"Comebacks within the terms",
                "warranty",
                {"group", "lives", "comebacks", "cost_each", "of", "value", "lower", "upper", "error"},
                {}};
    for (const GroupAnswer& group : answer.groups) {
        const std::vector<Cell> head = {group.name, group.lives, group.comebacks, cellOf(group.costEach)};
        const auto add = [&](std::vector<Cell> tail) {
            sheet.rows.push_back(head);
            sheet.rows.back().insert(sheet.rows.back().end(), tail.begin(), tail.end());
        };
        if (group.error) {
            add({Cell(), Cell(), Cell(), Cell(), *group.error});
            continue;
        }
        for (const auto& [name, e] : estimatesOf(group))
            if (e)
                add({std::string(name), e->value, e->lower, e->upper, Cell()});
            else
                add({std::string(name), Cell(), Cell(), Cell(),
                     std::string("no cost of a comeback is known")});
    }
    return sheet;
}

Result<void> run(Session& session, const Options& options) {
    const auto request = requestOf(options);
    if (!request)
        return core::failureOf(request);
    const bool ofShop = !options.input.shop.folder.empty() && options.input.csv.empty();
    const auto basis = ofShop ? warrantyOfShop(options.input.shop, options.input.by)
                              : basisOfTable(session, options, *request);
    if (!basis)
        return core::failureOf(basis);
    const std::vector<double>& drivers = request->drivers.empty() ? basis->drivers : request->drivers;
    Answer answer{basis->unit, basis->currency, static_cast<double>(drivers.size()), {}};
    for (const WarrantyGroup& group : basis->groups) {
        auto one = answerFor(group, drivers, *request);
        if (!one)
            return core::failureOf(one);
        answer.groups.push_back(std::move(*one));
    }
    if (session.format == Format::Json)
        writeJson(session.out, answer, *request);
    else
        appendSheets(session, {sheetOf(answer)});
    return {};
}

} // namespace

Action setUpWarranty(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addLivesInput(command, options->input);
    command.add_option("--months", options->months, "months of the terms")->type_name("NUMBER");
    command.add_option("--miles", options->miles, "miles of the terms, in the unit of the table or the shop")
        ->type_name("NUMBER");
    command
        .add_option(
            "--yearly-miles", options->yearlyMiles,
            "yearly miles of the drivers; default: the table's column yearly_miles, the shop's records")
        ->type_name("MILES,...");
    command.add_option("--jobs", options->jobs, "jobs under the terms")
        ->type_name("NUMBER")
        ->capture_default_str();
    command
        .add_option("--cost-each", options->costEach,
                    "mean cost of a comeback; default: the mean of those on record in the shop")
        ->type_name("MONEY");
    command.add_option("--model", options->model, "weibull, lognormal or exponential")
        ->type_name("NAME")
        ->capture_default_str();
    addLevelOption(command, options->level);
    command.add_option("--seed", options->seed, "start of the random weights")
        ->type_name("NUMBER")
        ->capture_default_str();
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
