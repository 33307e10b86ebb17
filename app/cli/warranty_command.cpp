// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/warranty_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/sheet.h"
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
    std::string costEach = "0";
    std::string model = "weibull";
    std::string level = "0.95";
    std::uint64_t seed = 1;
};

struct Request {
    core::WarrantyTerms terms;
    core::WarrantyOptions options;
    std::vector<double> drivers; ///< of the option; empty: the table's column
    std::string model;
};

struct GroupAnswer {
    std::string name;
    double lives = 0, comebacks = 0;
    std::optional<std::string> error;
    core::WarrantyCost cost;
};

Result<double> positive(std::string_view option, const std::string& text, bool zeroToo) {
    if (text.empty())
        return core::fail(ErrorCode::InvalidInput, std::string(option) + ": missing; expected a number");
    const auto value = numberOption(option, text);
    if (!value)
        return value;
    if (*value < 0 || (*value == 0 && !zeroToo))
        return core::fail(ErrorCode::InvalidInput, std::string(option) + ": '" + text +
                                                       "' is too small; expected " +
                                                       (zeroToo ? "0 or more" : "more than 0"));
    return value;
}

Result<Request> requestOf(const Options& options) {
    Request request;
    struct Number {
        const char* option;
        const std::string& text;
        bool zeroToo;
        double& into;
    };
    const Number numbers[] = {{"--months", options.months, false, request.terms.months},
                              {"--miles", options.miles, false, request.terms.miles},
                              {"--jobs", options.jobs, true, request.options.jobs},
                              {"--cost-each", options.costEach, true, request.options.costEach}};
    for (const Number& number : numbers) {
        const auto value = positive(number.option, number.text, number.zeroToo);
        if (!value)
            return core::failureOf(value);
        number.into = *value;
    }
    auto drivers = mileagesOption("--yearly-miles", options.yearlyMiles);
    if (!drivers)
        return core::failureOf(drivers);
    request.drivers = std::move(*drivers);
    const auto level = shareOption("--level", options.level);
    if (!level)
        return core::failureOf(level);
    request.options.level = *level;
    request.options.seed = options.seed;
    request.model = options.model;
    if (options.model == "weibull")
        request.options.model = LifeModel::Weibull;
    else if (options.model == "lognormal")
        request.options.model = LifeModel::Lognormal;
    else if (options.model == "exponential")
        request.options.model = LifeModel::Exponential;
    else
        return core::fail(ErrorCode::InvalidInput,
                          "--model: '" + options.model +
                              "' is unknown; expected weibull, lognormal or exponential");
    return request;
}

/// Yearly miles of every driver: the option's, or the column of the table.
Result<std::vector<double>> driversOf(const Request& request, const storage::LivesTable& table) {
    if (!request.drivers.empty())
        return request.drivers;
    if (table.factors.empty())
        return core::fail(ErrorCode::InvalidInput,
                          std::string("--yearly-miles: missing, and the table has no column ") +
                              kYearlyColumn + "; expected one of the two");
    const auto numbers = table.factors[0].numbers();
    if (!numbers || std::any_of(numbers->begin(), numbers->end(), [](double miles) { return miles < 0; }))
        return core::fail(ErrorCode::InvalidInput, std::string("column ") + kYearlyColumn +
                                                       ": not every cell is a number of 0 or more");
    std::vector<double> drivers;
    for (const std::uint32_t level : table.factors[0].level)
        drivers.push_back((*numbers)[level]);
    return drivers;
}

Result<storage::LivesTable> tableOf(Session& session, const Options& options, const Request& request) {
    storage::LivesTableOptions reading;
    if (request.drivers.empty())
        reading.factors = {kYearlyColumn};
    return readLives(session, options.input, reading);
}

Result<std::vector<GroupAnswer>> answers(const core::Lives& lives, const std::vector<double>& drivers,
                                         const Request& request) {
    std::vector<GroupAnswer> out;
    const auto groups = core::observationsByGroup(lives);
    for (std::size_t g = 0; g < groups.size(); ++g) {
        GroupAnswer answer;
        answer.name = lives.groupNames[g];
        for (const core::Observation& row : groups[g]) {
            answer.lives += row.weight;
            answer.comebacks += row.cameBack() ? row.weight : 0;
        }
        const auto cost = core::warrantyCost(groups[g], drivers, request.terms, request.options);
        if (cost)
            answer.cost = *cost;
        else if (cost.error().code == ErrorCode::InvalidInput)
            return core::failureOf(cost);
        else
            answer.error = cost.error().detail;
        out.push_back(std::move(answer));
    }
    return out;
}

void writeEstimate(JsonWriter& json, const char* key, const core::Estimate& estimate) {
    json.object(key, [&] {
        json.field("value", estimate.value);
        json.field("lower", estimate.lower);
        json.field("upper", estimate.upper);
    });
}

void writeJson(std::string& out, const std::vector<GroupAnswer>& groups, const Request& request) {
    JsonWriter json(out);
    json.object([&] {
        json.field("months", request.terms.months);
        json.field("miles", request.terms.miles);
        json.field("model", std::string_view(request.model));
        json.field("level", request.options.level);
        json.field("jobs", request.options.jobs);
        json.field("cost_each", request.options.costEach);
        json.array("groups", [&] {
            for (const GroupAnswer& group : groups)
                json.object([&] {
                    json.field("group", std::string_view(group.name));
                    json.field("lives", group.lives);
                    json.field("comebacks", group.comebacks);
                    if (group.error) {
                        json.field("error", std::string_view(*group.error));
                        return;
                    }
                    writeEstimate(json, "share", group.cost.share);
                    writeEstimate(json, "expected_comebacks", group.cost.comebacks);
                    writeEstimate(json, "expected_cost", group.cost.money);
                });
        });
    });
    out += '\n';
}

Sheet sheetOf(const std::vector<GroupAnswer>& groups) {
    Sheet sheet{"Comebacks within the terms",
                "warranty",
                {"group", "lives", "comebacks", "of", "value", "lower", "upper", "error"},
                {}};
    for (const GroupAnswer& group : groups) {
        if (group.error) {
            sheet.rows.push_back(
                {group.name, group.lives, group.comebacks, Cell(), Cell(), Cell(), Cell(), *group.error});
            continue;
        }
        const auto add = [&](const char* name, const core::Estimate& e) {
            sheet.rows.push_back({group.name, group.lives, group.comebacks, std::string(name), e.value,
                                  e.lower, e.upper, Cell()});
        };
        add("share", group.cost.share);
        add("expected_comebacks", group.cost.comebacks);
        add("expected_cost", group.cost.money);
    }
    return sheet;
}

Result<void> run(Session& session, const Options& options) {
    const auto request = requestOf(options);
    if (!request)
        return core::failureOf(request);
    const auto table = tableOf(session, options, *request);
    if (!table)
        return core::failureOf(table);
    const auto drivers = driversOf(*request, *table);
    if (!drivers)
        return core::failureOf(drivers);
    const auto groups = answers(table->lives, *drivers, *request);
    if (!groups)
        return core::failureOf(groups);
    if (session.format == Format::Json)
        writeJson(session.out, *groups, *request);
    else
        appendSheets(session, {sheetOf(*groups)});
    return {};
}

} // namespace

Action setUpWarranty(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addLivesInput(command, options->input);
    command.add_option("--months", options->months, "months of the terms")->type_name("NUMBER");
    command.add_option("--miles", options->miles, "miles of the terms, in the unit of the table")
        ->type_name("NUMBER");
    command
        .add_option("--yearly-miles", options->yearlyMiles,
                    "yearly miles of the drivers; default: the table's column yearly_miles")
        ->type_name("MILES,...");
    command.add_option("--jobs", options->jobs, "jobs under the terms")
        ->type_name("NUMBER")
        ->capture_default_str();
    command.add_option("--cost-each", options->costEach, "mean cost of a comeback")
        ->type_name("MONEY")
        ->capture_default_str();
    command.add_option("--model", options->model, "weibull, lognormal or exponential")
        ->type_name("NAME")
        ->capture_default_str();
    command.add_option("--level", options->level, "two-sided level of the limits")
        ->type_name("SHARE")
        ->capture_default_str();
    command.add_option("--seed", options->seed, "start of the random weights")
        ->type_name("NUMBER")
        ->capture_default_str();
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
