// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/fit_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/sheet.h"
#include "core/survival/counts.h"
#include "core/survival/life_average.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace milehold::cli {

using core::ErrorCode;
using core::LifeFit;
using core::LifeModel;
using core::LifeQuantile;
using core::Result;

namespace {

struct Options {
    LivesInput input;
    std::string model = "weibull";
    std::string life = "0.1,0.5";
    std::string level = "0.95";
    std::string interval = "profile";
    std::string at;
    bool points = false;
};

struct Request {
    LifeModel model = LifeModel::Weibull;
    std::vector<double> shares;
    double level = 0.95;
    bool profile = true;
    std::vector<double> at;
};

/// Everything that one group answers.
struct GroupAnswer {
    std::string name;
    double lives = 0, comebacks = 0;
    std::optional<std::string> error;
    LifeFit fit;
    std::vector<LifeQuantile> life;
    std::vector<core::LifeSurvival> at;
    std::optional<core::AveragedSurvival> averaged;
    std::vector<core::PlotPoint> points;
};

const char* nameOf(LifeModel model) {
    switch (model) {
    case LifeModel::Weibull:
        return "weibull";
    case LifeModel::Lognormal:
        return "lognormal";
    case LifeModel::Exponential:
        break;
    }
    return "exponential";
}

Result<Request> requestOf(const Options& options) {
    Request request;
    bool known = false;
    for (const LifeModel model : {LifeModel::Weibull, LifeModel::Lognormal, LifeModel::Exponential}) {
        if (options.model != nameOf(model))
            continue;
        request.model = model;
        known = true;
    }
    if (!known)
        return core::fail(ErrorCode::InvalidInput,
                          "--model: '" + options.model +
                              "' is unknown; expected weibull, lognormal or exponential");
    if (options.interval != "wald" && options.interval != "profile")
        return core::fail(ErrorCode::InvalidInput,
                          "--interval: '" + options.interval + "' is unknown; expected wald or profile");
    request.profile = options.interval == "profile";
    const auto level = shareOption("--level", options.level);
    if (!level)
        return core::failureOf(level);
    request.level = *level;
    auto shares = numbersOption("--life", options.life);
    if (!shares)
        return core::failureOf(shares);
    for (const double p : *shares)
        if (!(p > 0 && p < 1))
            return core::fail(ErrorCode::InvalidInput,
                              "--life: '" + options.life + "' is not right; expected shares between 0 and 1");
    request.shares = std::move(*shares);
    auto at = mileagesOption("--at", options.at);
    if (!at)
        return core::failureOf(at);
    request.at = std::move(*at);
    return request;
}

GroupAnswer answerFor(std::string name, const core::LifeData& data, const Request& request) {
    GroupAnswer answer;
    answer.name = std::move(name);
    answer.lives = data.lives;
    answer.comebacks = data.comebacks;
    const auto fit = core::fitLife(data, request.model);
    if (!fit) {
        answer.error = fit.error().detail;
        return answer;
    }
    answer.fit = *fit;
    for (const double p : request.shares)
        answer.life.push_back(request.profile ? core::profileQuantile(data, *fit, p, request.level)
                                              : core::waldQuantile(*fit, p, request.level));
    for (const double miles : request.at)
        answer.at.push_back(core::survivalAt(*fit, miles, request.level));
    if (!request.at.empty())
        if (auto averaged = core::averagedSurvival(data, request.at, request.level))
            answer.averaged = std::move(*averaged);
    return answer;
}

std::vector<GroupAnswer> answers(const core::Lives& lives, const Request& request, bool points) {
    std::vector<GroupAnswer> out;
    const auto counts = core::countsByGroup(lives);
    // Counts say all there is to say unless some comeback is an interval.
    const auto rows = lives.hasIntervals() ? core::observationsByGroup(lives)
                                           : std::vector<std::vector<core::Observation>>();
    for (std::size_t g = 0; g < counts.size(); ++g) {
        const core::LifeData data = rows.empty() ? core::lifeData(counts[g]) : core::lifeData(rows[g]);
        out.push_back(answerFor(lives.groupNames[g], data, request));
        if (points)
            out.back().points = core::probabilityPlot(counts[g], request.model);
    }
    return out;
}

using Parameters = std::vector<std::pair<const char*, double>>;

Parameters parametersOf(const LifeFit& fit) {
    switch (fit.model) {
    case LifeModel::Weibull:
        return {{"shape", fit.shape()}, {"scale", fit.scale()}};
    case LifeModel::Lognormal:
        return {{"location", fit.location}, {"sigma", fit.scatter}};
    case LifeModel::Exponential:
        break;
    }
    return {{"mean", fit.scale()}};
}

void writeCovariance(JsonWriter& json, const LifeFit& fit) {
    const auto matrix = fit.model == LifeModel::Weibull ? fit.covarianceOfShape() : fit.covariance;
    const auto size = static_cast<std::size_t>(fit.parameters());
    json.array("covariance", [&] {
        for (std::size_t i = 0; i < size; ++i)
            json.array([&] {
                for (std::size_t j = 0; j < size; ++j)
                    json.value(matrix[i][j]);
            });
    });
}

/// Its distinct entries with the names of the logarithms that they belong to.
std::vector<std::pair<std::string, double>> covarianceCells(const LifeFit& fit) {
    switch (fit.model) {
    case LifeModel::Weibull: {
        const auto m = fit.covarianceOfShape();
        return {{"ln scale", m[0][0]}, {"ln scale, ln shape", m[0][1]}, {"ln shape", m[1][1]}};
    }
    case LifeModel::Lognormal: {
        const auto& m = fit.covariance;
        return {{"location", m[0][0]}, {"location, ln sigma", m[0][1]}, {"ln sigma", m[1][1]}};
    }
    case LifeModel::Exponential:
        break;
    }
    return {{"ln mean", fit.covariance[0][0]}};
}

void writeSurvival(JsonWriter& json, const char* key, const std::vector<core::LifeSurvival>& points) {
    json.array(key, [&] {
        for (const core::LifeSurvival& point : points)
            json.object([&] {
                json.field("miles", point.miles);
                json.field("survival", point.survival);
                json.field("se", point.se);
                json.field("lower", point.lower);
                json.field("upper", point.upper);
            });
    });
}

void writeEstimates(JsonWriter& json, const GroupAnswer& group, bool points) {
    for (const auto& [name, value] : parametersOf(group.fit))
        json.field(name, value);
    json.field("log_likelihood", group.fit.logLikelihood);
    json.field("aicc", core::correctedAic(group.fit));
    writeCovariance(json, group.fit);
    json.array("life", [&] {
        for (const LifeQuantile& life : group.life)
            json.object([&] {
                json.field("p", life.p);
                json.field("miles", life.miles);
                json.field("lower", life.lower);
                json.field("upper", life.upper);
            });
    });
    if (!group.at.empty())
        writeSurvival(json, "at", group.at);
    if (group.averaged)
        json.object("averaged", [&] {
            json.object("weights", [&] {
                for (const core::WeightedFit& one : group.averaged->models)
                    json.field(nameOf(one.fit.model), one.weight);
            });
            writeSurvival(json, "at", group.averaged->at);
        });
    if (points)
        json.array("points", [&] {
            for (const core::PlotPoint& point : group.points)
                json.object([&] {
                    json.field("miles", point.miles);
                    json.field("failed", point.failed);
                    json.field("quantile", point.quantile);
                });
        });
}

void writeJson(std::string& out, const std::vector<GroupAnswer>& groups, const Request& request,
               bool points) {
    JsonWriter json(out);
    json.object([&] {
        json.field("model", nameOf(request.model));
        json.field("level", request.level);
        json.field("interval", request.profile ? "profile" : "wald");
        json.array("groups", [&] {
            for (const GroupAnswer& group : groups)
                json.object([&] {
                    json.field("group", group.name);
                    json.field("lives", group.lives);
                    json.field("comebacks", group.comebacks);
                    if (group.error)
                        json.field("error", std::string_view(*group.error));
                    else
                        writeEstimates(json, group, points);
                });
        });
    });
    out += '\n';
}

std::vector<Sheet> sheetsOf(const std::vector<GroupAnswer>& groups, const Request& request) {
    LifeFit shown;
    shown.model = request.model;
    Sheet estimates{std::string("Life distribution: ") + nameOf(request.model),
                    "estimates",
                    {"group", "lives", "comebacks"},
                    {}};
    const Parameters names = parametersOf(shown);
    for (const auto& [name, value] : names)
        estimates.columns.emplace_back(name);
    estimates.columns.insert(estimates.columns.end(), {"log_likelihood", "aicc", "error"});
    Sheet covariance{"Covariance of the estimates", "covariance", {"group", "of", "value"}, {}};
    Sheet life{"Mileage by which a share has failed", "life", {"group", "p", "miles", "lower", "upper"}, {}};
    Sheet at{"Survival at a mileage", "at", {"group", "miles", "survival", "se", "lower", "upper"}, {}};
    Sheet averaged{"Survival averaged over the models",
                   "averaged",
                   {"group", "miles", "survival", "se", "lower", "upper"},
                   {}};
    const auto addPoints = [](Sheet& sheet, const std::string& group,
                              const std::vector<core::LifeSurvival>& points) {
        for (const core::LifeSurvival& p : points)
            sheet.rows.push_back({group, p.miles, p.survival, p.se, p.lower, p.upper});
    };
    for (const GroupAnswer& group : groups) {
        std::vector<Cell> row = {group.name, group.lives, group.comebacks};
        if (group.error) {
            row.resize(row.size() + names.size() + 2);
            row.emplace_back(*group.error);
        } else {
            for (const auto& [name, value] : parametersOf(group.fit))
                row.emplace_back(value);
            row.insert(row.end(), {group.fit.logLikelihood, cellOf(core::correctedAic(group.fit)), Cell()});
        }
        estimates.rows.push_back(std::move(row));
        if (!group.error)
            for (const auto& [name, value] : covarianceCells(group.fit))
                covariance.rows.push_back({group.name, name, value});
        for (const LifeQuantile& q : group.life)
            life.rows.push_back({group.name, q.p, cellOf(q.miles), cellOf(q.lower), cellOf(q.upper)});
        addPoints(at, group.name, group.at);
        if (group.averaged)
            addPoints(averaged, group.name, group.averaged->at);
    }
    std::vector<Sheet> sheets = {std::move(estimates), std::move(covariance), std::move(life)};
    for (Sheet* sheet : {&at, &averaged})
        if (!sheet->rows.empty())
            sheets.push_back(std::move(*sheet));
    return sheets;
}

Result<void> run(Session& session, const Options& options) {
    const auto request = requestOf(options);
    if (!request)
        return core::failureOf(request);
    const auto table = readLives(session, options.input);
    if (!table)
        return core::failureOf(table);
    const std::vector<GroupAnswer> groups = answers(table->lives, *request, options.points);
    if (session.format == Format::Json)
        writeJson(session.out, groups, *request, options.points);
    else
        appendSheets(session, sheetsOf(groups, *request));
    return {};
}

} // namespace

Action setUpFit(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addLivesInput(command, options->input);
    command.add_option("--model", options->model, "weibull, lognormal or exponential")
        ->type_name("NAME")
        ->capture_default_str();
    command.add_option("--life", options->life, "shares failed whose mileages are asked for")
        ->type_name("SHARE,...")
        ->capture_default_str();
    command.add_option("--level", options->level, "two-sided level of the limits")
        ->type_name("SHARE")
        ->capture_default_str();
    command.add_option("--interval", options->interval, "profile (likelihood ratio) or wald")
        ->type_name("NAME")
        ->capture_default_str();
    command.add_option("--at", options->at, "mileages to read the fitted and the averaged survival at")
        ->type_name("MILES,...");
    command.add_flag("--points", options->points, "add the points of the probability plot (JSON)");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
