// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/fit_command.h"

#include "app/cli/fit_answer.h"
#include "app/cli/lives_input.h"
#include "app/cli/option_reader.h"
#include "core/survival/counts.h"

#include <CLI/CLI.hpp>

#include <cmath>
#include <memory>
#include <ostream>
#include <string>
#include <utility>
#include <vector>

namespace milehold::cli {

using core::LifeModel;
using core::Result;

namespace {

struct Options {
    LivesInput input;
    std::string model = "weibull";
    std::string life = "0.1,0.5";
    std::string level = "0.95";
    std::string interval = "profile";
    std::string at;
    std::string assumed;
    bool points = false;
};

Result<FitRequest> requestOf(const Options& options) {
    constexpr OptionReader::Word<LifeModel> kModels[] = {{"weibull", LifeModel::Weibull},
                                                         {"lognormal", LifeModel::Lognormal},
                                                         {"exponential", LifeModel::Exponential}};
    constexpr OptionReader::Word<bool> kIntervals[] = {{"wald", false}, {"profile", true}};
    OptionReader read;
    FitRequest request;
    request.model = read.oneOf<LifeModel>("--model", options.model, kModels);
    request.profile = read.oneOf<bool>("--interval", options.interval, kIntervals);
    request.level = read.share("--level", options.level);
    request.shares = read.shares("--life", options.life);
    request.at = read.mileages("--at", options.at);
    request.assumed = read.mileages("--assumed-shapes", options.assumed);
    for (const double shape : request.assumed)
        if (!(shape > 0))
            read.refuse("--assumed-shapes", "a shape is not greater than 0");
    request.points = options.points;
    if (!read.result())
        return core::failureOf(read.result());
    return request;
}

void addAssumed(FitAnswer& answer, const core::Counts& counts, const FitRequest& request) {
    const auto shapes = core::assumedShapes(counts, request.assumed, request.level);
    if (!shapes)
        return; // nothing was watched over any distance: the fit says so already
    answer.assumed = *shapes;
    for (const double miles : request.at)
        answer.worst.push_back(core::worstSurvival(answer.assumed, miles));
}

FitAnswer answerFor(std::string name, const core::LifeData& data, const FitRequest& request) {
    FitAnswer answer;
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

/// Comebacks at 0: repairs that never held.
double neverHeld(const core::Counts& counts) {
    return counts.size() > 0 && counts.miles.front() == 0 ? counts.comebacks.front() : 0;
}

bool isNeverHeld(const core::Observation& row) {
    return row.cameBack() && row.upper == 0;
}

double neverHeld(const std::vector<core::Observation>& rows) {
    double sum = 0;
    for (const core::Observation& row : rows)
        sum += isNeverHeld(row) ? row.weight : 0;
    return sum;
}

core::LifeData dataOfHeld(core::Counts counts) {
    counts.comebacks.front() = 0;
    return core::lifeData(counts);
}

core::LifeData dataOfHeld(std::vector<core::Observation> rows) {
    std::erase_if(rows, isNeverHeld);
    return core::lifeData(rows);
}

/// Where some repairs never held, a mileage by which a share has failed may say no more than that, and the
/// distribution bends to reach them: beside the answer stands that of the repairs that held at all.
template <class Data>
FitAnswer answerWithHeld(std::string name, const Data& data, const FitRequest& request) {
    FitAnswer answer = answerFor(std::move(name), core::lifeData(data), request);
    if (const double never = neverHeld(data); never > 0) {
        answer.neverHeld = never / answer.lives;
        answer.ofHeld = std::make_shared<const FitAnswer>(answerFor(answer.name, dataOfHeld(data), request));
    }
    return answer;
}

void noteNeverHeld(Session& session, const FitAnswer& answer, const FitRequest& request) {
    const auto percent = [](double share) { return std::to_string(std::lround(100 * share)) + " %"; };
    for (const double p : request.shares)
        if (answer.neverHeld >= p) {
            session.err << "milehold-cli: note: group '" << answer.name << "': " << percent(answer.neverHeld)
                        << " never held, so the mileage by which " << percent(p)
                        << " have failed says only that; see those that held\n";
            return;
        }
}

std::vector<FitAnswer> answers(const core::Lives& lives, const FitRequest& request) {
    std::vector<FitAnswer> out;
    const auto counts = core::countsByGroup(lives);
    // Counts say all there is to say unless some comeback is an interval.
    const auto rows = lives.hasIntervals() ? core::observationsByGroup(lives)
                                           : std::vector<std::vector<core::Observation>>();
    for (std::size_t g = 0; g < counts.size(); ++g) {
        out.push_back(rows.empty() ? answerWithHeld(lives.groupNames[g], counts[g], request)
                                   : answerWithHeld(lives.groupNames[g], rows[g], request));
        if (request.points)
            out.back().points = core::probabilityPlot(counts[g], request.model);
        if (!request.assumed.empty())
            addAssumed(out.back(), counts[g], request);
    }
    return out;
}

Result<void> run(Session& session, const Options& options) {
    const auto request = requestOf(options);
    if (!request)
        return core::failureOf(request);
    LivesInput input = options.input;
    input.keepIntervals = true;
    const auto table = readLives(session, input);
    if (!table)
        return core::failureOf(table);
    const auto groups = answers(table->lives, *request);
    for (const FitAnswer& answer : groups)
        noteNeverHeld(session, answer, *request);
    answerFits(session, groups, *request);
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
    addLevelOption(command, options->level);
    command.add_option("--interval", options->interval, "profile (likelihood ratio) or wald")
        ->type_name("NAME")
        ->capture_default_str();
    addAtOption(command, options->at, "mileages to read the fitted and the averaged survival at");
    command
        .add_option("--assumed-shapes", options->assumed,
                    "Weibull shapes to assume, as 1,1.5,2,3, where comebacks are few: one-sided limits")
        ->type_name("NUMBER,...");
    command.add_flag("--points", options->points, "add the points of the probability plot (JSON)");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
