// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/plan_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/option_reader.h"
#include "app/cli/sheet.h"
#include "core/watch/power.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace milehold::cli {

using core::Result;

namespace {

struct Options {
    std::string ratio = "2";
    std::string level = "0.95";
    std::string power = "0.8";
    std::string firstShare = "0.5";
    std::string comebackShare;
    std::string comebacks;
};

struct Answer {
    core::PlannedComparison comparison;
    core::ComebacksNeeded needed;
    std::optional<double> comebackShare;
    std::optional<core::ComebacksNeeded> jobs; ///< jobs for the comebacks of the same name
    std::optional<double> comebacks, power;    ///< the chance to see it with so many comebacks
};

Result<Answer> answerOf(const Options& options) {
    OptionReader read;
    Answer answer;
    core::PlannedComparison& plan = answer.comparison;
    plan.hazardRatio = read.positive("--ratio", options.ratio);
    if (plan.hazardRatio == 1)
        read.refuse("--ratio", "1 is no difference; expected another number");
    plan.level = read.share("--level", options.level);
    plan.power = read.share("--power", options.power);
    plan.firstShare = read.share("--first-share", options.firstShare);
    if (!options.comebackShare.empty())
        answer.comebackShare = read.share("--comeback-share", options.comebackShare);
    if (!options.comebacks.empty())
        answer.comebacks = read.notNegative("--comebacks", options.comebacks);
    if (!read.result())
        return core::failureOf(read.result());
    const auto needed = core::comebacksNeeded(plan);
    if (!needed)
        return core::failureOf(needed);
    answer.needed = *needed;
    if (answer.comebackShare) {
        const auto schoenfeld = core::jobsNeeded(needed->schoenfeld, *answer.comebackShare);
        if (!schoenfeld)
            return core::failureOf(schoenfeld);
        const auto freedman = core::jobsNeeded(needed->freedman, *answer.comebackShare);
        if (!freedman)
            return core::failureOf(freedman);
        answer.jobs = {*schoenfeld, *freedman};
    }
    if (answer.comebacks) {
        const auto power = core::powerOf(*answer.comebacks, plan);
        if (!power)
            return core::failureOf(power);
        answer.power = *power;
    }
    return answer;
}

void writeNeeded(JsonWriter& json, const char* key, const std::optional<core::ComebacksNeeded>& needed) {
    if (!needed) {
        json.null(key);
        return;
    }
    json.object(key, [&] {
        json.field("schoenfeld", needed->schoenfeld);
        json.field("freedman", needed->freedman);
    });
}

void writeJson(Session& session, const Answer& answer) {
    JsonWriter json(session.out);
    json.object([&] {
        json.field("ratio", answer.comparison.hazardRatio);
        json.field("level", answer.comparison.level);
        json.field("power", answer.comparison.power);
        json.field("first_share", answer.comparison.firstShare);
        writeNeeded(json, "comebacks_needed", answer.needed);
        json.field("comeback_share", answer.comebackShare);
        writeNeeded(json, "jobs_needed", answer.jobs);
        json.field("comebacks", answer.comebacks);
        json.field("power_with_comebacks", answer.power);
    });
    session.out += '\n';
}

std::vector<Sheet> sheetsOf(const Answer& answer) {
    Sheet needed{
        "Comebacks needed to tell the two paths apart", "needed", {"of", "schoenfeld", "freedman"}, {}};
    needed.rows.push_back({std::string("comebacks"), answer.needed.schoenfeld, answer.needed.freedman});
    if (answer.jobs)
        needed.rows.push_back({std::string("jobs"), answer.jobs->schoenfeld, answer.jobs->freedman});
    std::vector<Sheet> sheets = {std::move(needed)};
    if (answer.power)
        sheets.push_back({"Chance to see the difference",
                          "chance",
                          {"comebacks", "power_with_comebacks"},
                          {{*answer.comebacks, *answer.power}}});
    return sheets;
}

Result<void> run(Session& session, const Options& options) {
    const auto answer = answerOf(options);
    if (!answer)
        return core::failureOf(answer);
    if (session.format == Format::Json)
        writeJson(session, *answer);
    else
        appendSheets(session, sheetsOf(*answer));
    return {};
}

} // namespace

Action setUpPlan(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    const auto add = [&](const char* name, std::string& value, const char* what, const char* type) {
        auto* const option = command.add_option(name, value, what)->type_name(type);
        if (!value.empty())
            option->capture_default_str();
    };
    add("--ratio", options->ratio, "how many times as fast one path comes back as the other", "NUMBER");
    add("--level", options->level, "1 less the two-sided chance to see a difference where there is none",
        "SHARE");
    add("--power", options->power, "chance to see the difference", "SHARE");
    add("--first-share", options->firstShare, "share of the jobs on the first path", "SHARE");
    add("--comeback-share", options->comebackShare, "share of all jobs that comes back: gives jobs too",
        "SHARE");
    add("--comebacks", options->comebacks, "how likely one is to see it with so many comebacks", "NUMBER");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
