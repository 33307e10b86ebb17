// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/factors_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/option_reader.h"
#include "app/cli/sheet.h"
#include "core/survival/cox.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <cmath>
#include <memory>
#include <numeric>
#include <ostream>

namespace milehold::cli {

using core::CoxFit;
using core::ErrorCode;
using core::Result;

namespace {

struct Options {
    LivesInput input;
    std::string terms;
    std::string ties = "efron";
    std::string level = "0.95";
    std::string adjust;
    std::string at;
    bool stratum = false;
    bool cluster = false;
};

/// Terms of one column: itself when all numbers, else one a level against the first in byte order.
struct Column {
    std::vector<std::string> names;
    std::vector<std::vector<double>> values; ///< of each term, a number a row
};

// A header is line 1, and rows stand a line each unless a cell holds line breaks.
std::string placeOf(const std::string& csv, std::size_t row) {
    return storage::nameOfSource(csv) + ":" + std::to_string(row + 2) + ": ";
}

Result<Column> columnOf(const storage::FactorColumn& factor, const std::string& csv) {
    Column column;
    for (std::size_t i = 0; i < factor.level.size(); ++i)
        if (factor.levels[factor.level[i]].empty())
            return core::fail(ErrorCode::InvalidInput,
                              placeOf(csv, i) + "column " + factor.name +
                                  ": the cell is empty; expected a number or a word in every row");
    if (const auto numbers = factor.numbers()) {
        column.names = {factor.name};
        column.values.emplace_back();
        for (const std::uint32_t level : factor.level)
            column.values[0].push_back((*numbers)[level]);
        return column;
    }
    std::vector<std::size_t> order(factor.levels.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return factor.levels[a] < factor.levels[b]; });
    if (order.size() < 2)
        return core::fail(ErrorCode::NotEstimable,
                          factor.name + " is the same for all lives: it has no coefficient");
    for (std::size_t k = 1; k < order.size(); ++k) {
        column.names.push_back(factor.name + "=" + factor.levels[order[k]]);
        column.values.emplace_back();
        for (const std::uint32_t level : factor.level)
            column.values.back().push_back(level == order[k] ? 1.0 : 0.0);
    }
    return column;
}

/// More terms than anybody reads; the work grows with their square.
constexpr std::size_t kMostTerms = 300;

Result<core::FactorTable> factorTable(const storage::LivesTable& table, const std::string& csv) {
    core::FactorTable out;
    std::vector<std::vector<double>> columns;
    for (const storage::FactorColumn& factor : table.factors) {
        auto column = columnOf(factor, csv);
        if (!column)
            return core::failureOf(column);
        for (std::size_t k = 0; k < column->names.size(); ++k) {
            out.names.push_back(std::move(column->names[k]));
            columns.push_back(std::move(column->values[k]));
        }
    }
    if (columns.size() > kMostTerms)
        return core::fail(ErrorCode::InvalidInput,
                          "--terms: the columns make " + std::to_string(columns.size()) +
                              " terms, one a level; expected " + std::to_string(kMostTerms) + " at most");
    out.values.resize(table.lives.size() * columns.size());
    for (std::size_t i = 0; i < table.lives.size(); ++i)
        for (std::size_t k = 0; k < columns.size(); ++k)
            out.values[i * columns.size() + k] = columns[k][i];
    return out;
}

struct Request {
    std::vector<std::string> columns;
    core::CoxOptions cox;
    std::string adjust;
    std::vector<double> at;
};

Result<Request> requestOf(const Options& options) {
    Request request;
    if (options.terms.empty())
        return core::fail(ErrorCode::InvalidInput, "--terms: no column was named; expected --terms a,b");
    constexpr OptionReader::Word<core::TiesRule> kTies[] = {{"efron", core::TiesRule::Efron},
                                                            {"breslow", core::TiesRule::Breslow}};
    OptionReader read;
    request.columns = read.names("--terms", options.terms);
    request.cox.ties = read.oneOf<core::TiesRule>("--ties", options.ties, kTies);
    request.cox.level = read.share("--level", options.level);
    request.at = read.mileages("--at", options.at);
    if (options.adjust.empty() != request.at.empty())
        read.refuse("--adjust", "goes together with --at; expected both or none");
    if (!read.result())
        return core::failureOf(read.result());
    request.cox.stratified = options.stratum;
    request.cox.clustered = options.cluster;
    request.adjust = options.adjust;
    return request;
}

/// Survival averaged over all lives, each as if `term` were 0 or 1.
struct Adjusted {
    double value = 0;
    std::vector<core::PredictedPoint> at;
};

Result<std::vector<Adjusted>> adjusted(const core::Lives& lives, const core::FactorTable& factors,
                                       const CoxFit& fit, const Request& request) {
    std::vector<Adjusted> curves;
    if (request.adjust.empty())
        return curves;
    const auto found = std::find(factors.names.begin(), factors.names.end(), request.adjust);
    if (found == factors.names.end())
        return core::fail(ErrorCode::InvalidInput,
                          "--adjust: '" + request.adjust + "' is not one of the terms");
    const auto term = static_cast<std::size_t>(found - factors.names.begin());
    std::vector<double> values;
    for (std::size_t i = 0; i < lives.size(); ++i)
        values.push_back(factors.values[i * factors.terms() + term]);
    std::sort(values.begin(), values.end());
    values.erase(std::unique(values.begin(), values.end()), values.end());
    // A column of measurements has no levels to stand for it: its smallest, middle and largest value do.
    if (values.size() > 5)
        values = {values.front(), values[values.size() / 2], values.back()};
    for (const double value : values)
        curves.push_back(
            {value, core::adjustedSurvival(lives, factors, request.cox, fit, term, value, request.at)});
    return curves;
}

void writeTest(JsonWriter& json, const char* key, const core::CoxTest& test) {
    json.object(key, [&] {
        json.field("chi_square", test.chiSquare);
        json.field("df", static_cast<double>(test.df));
        json.field("p", test.p);
    });
}

void writeJson(std::string& out, const CoxFit& fit, const Request& request,
               const std::vector<Adjusted>& curves) {
    JsonWriter json(out);
    json.object([&] {
        json.field("ties", fit.ties == core::TiesRule::Efron ? "efron" : "breslow");
        json.field("level", request.cox.level);
        json.field("lives", fit.lives);
        json.field("comebacks", fit.comebacks);
        json.array("terms", [&] {
            for (const core::CoxTerm& term : fit.terms)
                json.object([&] {
                    json.field("term", std::string_view(term.term));
                    json.field("coefficient", term.coefficient);
                    json.field("se", term.se);
                    json.field("robust_se", term.robustSe);
                    json.field("hazard_ratio", term.hazardRatio);
                    json.field("lower", term.lower);
                    json.field("upper", term.upper);
                    json.field("z", term.z);
                    json.field("p", term.p);
                });
        });
        json.field("log_likelihood_null", fit.logLikelihoodNull);
        json.field("log_likelihood", fit.logLikelihood);
        writeTest(json, "likelihood_ratio", fit.likelihoodRatio);
        writeTest(json, "score", fit.score);
        writeTest(json, "wald", fit.wald);
        json.array("proportional_hazards", [&] {
            for (const core::ProportionalTest& test : fit.proportionalHazards)
                json.object([&] {
                    json.field("term", std::string_view(test.term));
                    json.field("chi_square", test.chiSquare);
                    json.field("df", static_cast<double>(test.df));
                    json.field("p", test.p);
                });
        });
        if (!curves.empty())
            json.array("adjusted", [&] {
                for (const Adjusted& curve : curves)
                    json.object([&] {
                        json.field("term", std::string_view(request.adjust));
                        json.field("value", curve.value);
                        json.array("at", [&] {
                            for (const core::PredictedPoint& point : curve.at)
                                json.object([&] {
                                    json.field("miles", point.miles);
                                    json.field("survival", point.survival);
                                    json.field("se", point.se);
                                    json.field("lower", point.lower);
                                    json.field("upper", point.upper);
                                });
                        });
                    });
            });
    });
    out += '\n';
}

std::vector<Sheet> sheetsOf(const CoxFit& fit, const Request& request, const std::vector<Adjusted>& curves) {
    Sheet terms{"Factors",
                "terms",
                {"term", "coefficient", "se", "robust_se", "hazard_ratio", "lower", "upper", "z", "p"},
                {}};
    for (const core::CoxTerm& t : fit.terms)
        terms.rows.push_back({t.term, t.coefficient, t.se, cellOf(t.robustSe), cellOf(t.hazardRatio),
                              cellOf(t.lower), cellOf(t.upper), t.z, t.p});
    Sheet whole{"The whole regression", "whole", {"test", "chi_square", "df", "p"}, {}};
    const auto add = [&](const char* name, const core::CoxTest& t) {
        whole.rows.push_back({std::string(name), t.chiSquare, static_cast<double>(t.df), t.p});
    };
    add("likelihood_ratio", fit.likelihoodRatio);
    add("score", fit.score);
    add("wald", fit.wald);
    Sheet likelihood{"How well it explains the lives",
                     "likelihood",
                     {"ties", "lives", "comebacks", "log_likelihood_null", "log_likelihood"},
                     {}};
    likelihood.rows.push_back({std::string(fit.ties == core::TiesRule::Efron ? "efron" : "breslow"),
                               fit.lives, fit.comebacks, fit.logLikelihoodNull, fit.logLikelihood});
    Sheet proportional{
        "Are the hazards proportional", "proportional_hazards", {"term", "chi_square", "df", "p"}, {}};
    for (const core::ProportionalTest& t : fit.proportionalHazards)
        proportional.rows.push_back({t.term, cellOf(t.chiSquare), static_cast<double>(t.df), cellOf(t.p)});
    std::vector<Sheet> sheets = {std::move(terms), std::move(likelihood), std::move(whole),
                                 std::move(proportional)};
    if (!curves.empty()) {
        Sheet curve{"Adjusted survival",
                    "adjusted",
                    {"term", "value", "miles", "survival", "se", "lower", "upper"},
                    {}};
        for (const Adjusted& one : curves)
            for (const core::PredictedPoint& p : one.at)
                curve.rows.push_back(
                    {request.adjust, one.value, p.miles, p.survival, p.se, p.lower, p.upper});
        sheets.push_back(std::move(curve));
    }
    return sheets;
}

Result<void> run(Session& session, const Options& options) {
    const auto request = requestOf(options);
    if (!request)
        return core::failureOf(request);
    storage::LivesTableOptions reading;
    reading.factors = request->columns;
    reading.needVehicle = options.cluster;
    const auto table = readLives(session, options.input, reading);
    if (!table)
        return core::failureOf(table);
    for (std::size_t i = 0; i < table->lives.weight.size(); ++i)
        if (const double w = table->lives.weight[i]; w != std::floor(w))
            return core::fail(ErrorCode::InvalidInput,
                              placeOf(options.input.csv, i) +
                                  "column weight: not a whole number; factors takes rows "
                                  "repeated a whole number of times");
    const auto factors = factorTable(*table, options.input.csv);
    if (!factors)
        return core::failureOf(factors);
    if (table->lives.hasIntervals())
        session.err
            << "milehold-cli: note: factors takes a comeback that lies in an interval at its beginning\n";
    const auto fit = core::fitCox(table->lives, *factors, request->cox);
    if (!fit)
        return core::failureOf(fit);
    const auto curves = adjusted(table->lives, *factors, *fit, *request);
    if (!curves)
        return core::failureOf(curves);
    if (session.format == Format::Json)
        writeJson(session.out, *fit, *request, *curves);
    else
        appendSheets(session, sheetsOf(*fit, *request, *curves));
    return {};
}

} // namespace

Action setUpFactors(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addLivesInput(command, options->input);
    addStrataInput(command, options->input);
    command.add_option("--terms", options->terms, "columns that may explain the life")->type_name("NAME,...");
    command.add_option("--ties", options->ties, "efron or breslow")->type_name("NAME")->capture_default_str();
    addLevelOption(command, options->level);
    command.add_flag("--stratum", options->stratum, "a baseline of its own for each stratum");
    command.add_flag("--cluster", options->cluster, "robust standard errors, rows of a vehicle together");
    command.add_option("--adjust", options->adjust, "a term whose adjusted curves are asked for")
        ->type_name("TERM");
    addAtOption(command, options->at, "mileages of the adjusted curves");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
