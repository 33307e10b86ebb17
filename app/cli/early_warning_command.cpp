// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/early_warning_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/option_reader.h"
#include "app/cli/sheet.h"
#include "app/cli/watched_jobs.h"
#include "core/survival/life_fit.h"
#include "core/survival/observation.h"
#include "core/watch/cusum.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <cmath>
#include <memory>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

constexpr double kDaysAYear = 365.25;

struct Options {
    LivesInput input;
    std::string ratio = "2";
    std::string falseAlarm = "0.05";
    std::string runs = "2000";
    std::uint64_t seed = 1;
};

struct Request {
    double ratio = 2;
    double falseAlarm = 0.05; ///< a year
    int runs = 2000;
    std::uint64_t seed = 1;
};

struct GroupAnswer {
    std::string name;
    double jobs = 0, comebacks = 0, expected = 0;
    std::optional<std::string> error;
    double limit = 0, highest = 0;
    std::optional<double> alarm; ///< a day
    std::vector<core::CusumPoint> points;
};

struct Answer {
    const WatchedBook& book;
    std::vector<GroupAnswer> groups;

    std::size_t watched() const {
        return static_cast<std::size_t>(
            std::count_if(groups.begin(), groups.end(), [](const GroupAnswer& g) { return !g.error; }));
    }
};

Result<Request> requestOf(const Options& options) {
    OptionReader read;
    Request request;
    request.ratio = read.number("--ratio", options.ratio);
    if (!(request.ratio > 1))
        read.refuse("--ratio", "'" + options.ratio + "' is no acceleration; expected more than 1");
    request.falseAlarm = read.share("--false-alarm", options.falseAlarm);
    const std::int64_t runs = read.whole("--runs", options.runs, 1);
    if (runs > 1'000'000)
        read.refuse("--runs", "'" + options.runs + "' is too many; expected 1000000 at most");
    request.runs = static_cast<int>(std::min<std::int64_t>(runs, 1'000'000));
    request.seed = options.seed;
    if (!read.result())
        return core::failureOf(read.result());
    return request;
}

/// Days that jobs last, by the Weibull distribution of those that are not of the group itself, so that a bad
/// one does not count as usual.
struct Usual {
    core::ExpectedHazard hazard;
    double comebacks = 0; ///< that it rests on
};
Result<Usual> usualOf(const WatchedBook& book, std::size_t group) {
    std::vector<core::Observation> others;
    for (std::size_t g = 0; g < book.groups.size(); ++g)
        for (const core::WatchedJob& job : book.groups[g].jobs)
            if (g != group) {
                const double days = job.leaves - job.enters;
                others.push_back({days, job.cameBack ? days : HUGE_VAL, 0, 1});
            }
    if (others.empty())
        return core::fail(ErrorCode::NotEstimable, "there are no other jobs to tell what is usual");
    const auto fit = core::fitLife(core::lifeData(others), core::LifeModel::Weibull);
    if (!fit)
        return core::fail(fit.error().code,
                          "what is usual is unknown: of the other jobs, " + fit.error().detail);
    return Usual{[shape = fit->shape(), scale = fit->scale()](double age) {
                     return age > 0 ? std::pow(age / scale, shape) : 0.0;
                 },
                 fit->comebacks};
}

Result<GroupAnswer> answerFor(const WatchedBook& book, std::size_t group, const Request& request) {
    const WatchedGroup& watched = book.groups[group];
    GroupAnswer answer;
    answer.name = watched.name;
    answer.jobs = static_cast<double>(watched.jobs.size());
    double first = HUGE_VAL, last = -HUGE_VAL;
    for (const core::WatchedJob& job : watched.jobs) {
        answer.comebacks += job.cameBack ? 1 : 0;
        first = std::min(first, job.enters);
        last = std::max(last, job.leaves);
    }
    const auto usual = usualOf(book, group);
    if (!usual || !(last > first)) {
        answer.error = usual ? "nobody was watched for a day" : usual.error().detail;
        return answer;
    }
    for (const core::WatchedJob& job : watched.jobs)
        answer.expected += usual->hazard(job.leaves - job.enters);
    auto points = core::cusum(watched.jobs, usual->hazard, request.ratio, std::span(&last, 1));
    if (!points)
        return core::failureOf(points);
    answer.points = std::move(*points);

    // Simulated as long as the watch has lasted, with the chance of a false alarm that a year's adds up to.
    std::vector<double> enters;
    for (const core::WatchedJob& job : watched.jobs)
        enters.push_back(job.enters - first);
    core::CusumLimitOptions how;
    how.horizon = last - first;
    how.falseAlarm = -std::expm1(std::log1p(-request.falseAlarm) * how.horizon / kDaysAYear);
    how.hazardRatio = request.ratio;
    how.runs = request.runs;
    how.seed = request.seed;
    how.comebacksBehind = usual->comebacks;
    const auto limit = core::cusumLimit(enters, usual->hazard, how);
    if (!limit)
        return core::failureOf(limit);
    answer.limit = *limit;
    for (const core::CusumPoint& point : answer.points)
        answer.highest = std::max(answer.highest, point.value);
    answer.alarm = core::alarmDay(answer.points, answer.limit);
    return answer;
}

void writeDay(JsonWriter& json, const char* key, const WatchedBook& book, double day) {
    if (book.dayZero)
        json.field(key, book.dateOf(day));
    else
        json.field(key, day);
}

void writeJson(Session& session, const Answer& answer, const Request& request) {
    JsonWriter json(session.out);
    json.object([&] {
        json.field("ratio", request.ratio);
        json.field("false_alarm", request.falseAlarm);
        json.field("false_alarm_of_any", core::chanceOfAnyAlarm(request.falseAlarm, answer.watched()));
        json.array("groups", [&] {
            for (const GroupAnswer& group : answer.groups)
                json.object([&] {
                    json.field("group", group.name);
                    json.field("jobs", group.jobs);
                    json.field("comebacks", group.comebacks);
                    if (group.error) {
                        json.field("error", std::string_view(*group.error));
                        return;
                    }
                    json.field("expected", group.expected);
                    json.field("limit", group.limit);
                    json.field("highest", group.highest);
                    if (group.alarm)
                        writeDay(json, "alarm", answer.book, *group.alarm);
                    else
                        json.null("alarm");
                    json.array("points", [&] {
                        for (const core::CusumPoint& point : group.points)
                            json.object([&] {
                                writeDay(json, "day", answer.book, point.day);
                                json.field("value", point.value);
                            });
                    });
                });
        });
    });
    session.out += '\n';
}

std::vector<Sheet> sheetsOf(const Answer& answer, const Request& request) {
    const auto dayCell = [&](double day) {
        return answer.book.dayZero ? Cell(answer.book.dateOf(day)) : Cell(day);
    };
    Sheet groups{"Do comebacks come faster than is usual",
                 "group",
                 {"group", "jobs", "comebacks", "expected", "highest", "limit", "alarm", "error"},
                 {}};
    Sheet points{"The running sum", "point", {"group", "day", "value"}, {}};
    for (const GroupAnswer& group : answer.groups) {
        if (group.error) {
            groups.rows.push_back(
                {group.name, group.jobs, group.comebacks, Cell(), Cell(), Cell(), Cell(), *group.error});
            continue;
        }
        groups.rows.push_back({group.name, group.jobs, group.comebacks, group.expected, group.highest,
                               group.limit, group.alarm ? dayCell(*group.alarm) : Cell(), Cell()});
        for (const core::CusumPoint& point : group.points)
            points.rows.push_back({group.name, dayCell(point.day), point.value});
    }
    Sheet chance{"Chance a year of a warning where all is in order, at most",
                 "chance",
                 {"of_one", "of_any", "watched"},
                 {}};
    chance.rows.push_back({request.falseAlarm, core::chanceOfAnyAlarm(request.falseAlarm, answer.watched()),
                           static_cast<double>(answer.watched())});
    return {std::move(groups), std::move(points), std::move(chance)};
}

Result<void> run(Session& session, const Options& options) {
    const auto request = requestOf(options);
    if (!request)
        return core::failureOf(request);
    const auto book = readWatchedBook(session, options.input);
    if (!book)
        return core::failureOf(book);
    Answer answer{*book, {}};
    for (std::size_t g = 0; g < book->groups.size(); ++g) {
        auto one = answerFor(*book, g, *request);
        if (!one)
            return core::failureOf(one);
        answer.groups.push_back(std::move(*one));
    }
    if (session.format == Format::Json)
        writeJson(session, answer, *request);
    else
        appendSheets(session, sheetsOf(answer, *request));
    return {};
}

} // namespace

Action setUpEarlyWarning(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    options->input.by = "phaser-revision";
    addLivesInput(command, options->input);
    command.add_option("--ratio", options->ratio, "how many times as fast is to be noticed")
        ->type_name("NUMBER")
        ->capture_default_str();
    command
        .add_option("--false-alarm", options->falseAlarm,
                    "chance a year that one group warns where all is in order")
        ->type_name("SHARE")
        ->capture_default_str();
    command.add_option("--runs", options->runs, "simulated courses behind the limit")
        ->type_name("NUMBER")
        ->capture_default_str();
    command.add_option("--seed", options->seed, "start of the simulation")
        ->type_name("NUMBER")
        ->capture_default_str();
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
