// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/fit_answer.h"

#include "app/cli/json_writer.h"
#include "app/cli/sheet.h"

namespace milehold::cli {

using core::LifeFit;
using core::LifeModel;
using core::LifeQuantile;

namespace {

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

void writeAssumed(JsonWriter& json, const FitAnswer& group, double level) {
    json.object("assumed", [&] {
        json.field("level", level);
        json.array("shapes", [&] {
            for (const core::AssumedShape& shape : group.assumed)
                json.object([&] {
                    json.field("shape", shape.shape);
                    json.field("scale", shape.scale);
                    json.field("lower_scale", shape.lowerScale);
                });
        });
        json.array("at", [&] {
            for (const core::WorstSurvival& worst : group.worst)
                json.object([&] {
                    json.field("miles", worst.miles);
                    json.field("lower", worst.lower);
                    json.field("shape", worst.shape);
                });
        });
    });
}

void writeLife(JsonWriter& json, const std::vector<LifeQuantile>& quantiles) {
    json.array("life", [&] {
        for (const LifeQuantile& life : quantiles)
            json.object([&] {
                json.field("p", life.p);
                json.field("miles", life.miles);
                json.field("lower", life.lower);
                json.field("upper", life.upper);
            });
    });
}

void writeHeld(JsonWriter& json, const FitAnswer& held) {
    json.object("of_those_that_held", [&] {
        json.field("lives", held.lives);
        json.field("comebacks", held.comebacks);
        if (held.error) {
            json.field("error", std::string_view(*held.error));
            return;
        }
        for (const auto& [name, value] : parametersOf(held.fit))
            json.field(name, value);
        writeLife(json, held.life);
    });
}

void writeEstimates(JsonWriter& json, const FitAnswer& group, bool points) {
    for (const auto& [name, value] : parametersOf(group.fit))
        json.field(name, value);
    json.field("log_likelihood", group.fit.logLikelihood);
    json.field("aicc", core::correctedAic(group.fit));
    writeCovariance(json, group.fit);
    writeLife(json, group.life);
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

void writeJson(std::string& out, const std::vector<FitAnswer>& groups, const FitRequest& request) {
    JsonWriter json(out);
    json.object([&] {
        json.field("model", nameOf(request.model));
        json.field("level", request.level);
        json.field("interval", request.profile ? "profile" : "wald");
        json.array("groups", [&] {
            for (const FitAnswer& group : groups)
                json.object([&] {
                    json.field("group", group.name);
                    json.field("lives", group.lives);
                    json.field("comebacks", group.comebacks);
                    json.field("never_held", group.neverHeld);
                    if (group.ofHeld)
                        writeHeld(json, *group.ofHeld);
                    if (group.error)
                        json.field("error", std::string_view(*group.error));
                    else
                        writeEstimates(json, group, request.points);
                    if (!group.assumed.empty())
                        writeAssumed(json, group, request.level);
                });
        });
    });
    out += '\n';
}

std::vector<Sheet> sheetsOf(const std::vector<FitAnswer>& groups, const FitRequest& request) {
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
    Sheet held{"The same of the repairs that held at all: beside those that never did",
               "held",
               {"group", "never_held", "p", "miles", "lower", "upper", "error"},
               {}};
    const auto addPoints = [](Sheet& sheet, const std::string& group,
                              const std::vector<core::LifeSurvival>& points) {
        for (const core::LifeSurvival& p : points)
            sheet.rows.push_back({group, p.miles, p.survival, p.se, p.lower, p.upper});
    };
    for (const FitAnswer& group : groups) {
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
        if (group.ofHeld && group.ofHeld->error)
            held.rows.push_back(
                {group.name, group.neverHeld, Cell(), Cell(), Cell(), Cell(), *group.ofHeld->error});
        else if (group.ofHeld)
            for (const LifeQuantile& q : group.ofHeld->life)
                held.rows.push_back({group.name, group.neverHeld, q.p, cellOf(q.miles), cellOf(q.lower),
                                     cellOf(q.upper), Cell()});
        addPoints(at, group.name, group.at);
        if (group.averaged)
            addPoints(averaged, group.name, group.averaged->at);
    }
    Sheet assumed{"Scale of the life for an assumed shape, with its one-sided lower limit",
                  "assumed",
                  {"group", "shape", "scale", "lower_scale"},
                  {}};
    Sheet worst{"One-sided lower limit of survival, the worst of the shapes",
                "worst",
                {"group", "miles", "lower", "shape"},
                {}};
    for (const FitAnswer& group : groups) {
        for (const core::AssumedShape& shape : group.assumed)
            assumed.rows.push_back({group.name, shape.shape, cellOf(shape.scale), shape.lowerScale});
        for (const core::WorstSurvival& point : group.worst)
            worst.rows.push_back({group.name, point.miles, point.lower, point.shape});
    }
    std::vector<Sheet> sheets = {std::move(estimates), std::move(covariance), std::move(life)};
    for (Sheet* sheet : {&held, &at, &averaged, &assumed, &worst})
        if (!sheet->rows.empty())
            sheets.push_back(std::move(*sheet));
    return sheets;
}

} // namespace

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

void answerFits(Session& session, const std::vector<FitAnswer>& groups, const FitRequest& request) {
    if (session.format == Format::Json)
        writeJson(session.out, groups, request);
    else
        appendSheets(session, sheetsOf(groups, request));
}

} // namespace milehold::cli
