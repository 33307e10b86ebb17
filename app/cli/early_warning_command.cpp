// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/early_warning_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/option_reader.h"
#include "app/cli/sheet.h"
#include "app/cli/shop_records.h"
#include "app/cli/watched_jobs.h"
#include "core/report/owner_review.h"
#include "core/watch/early_warning.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <memory>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

constexpr double kMostLookUps = 3e8; // some seconds
constexpr std::string_view kByPart = "part", kByLot = "lot";

struct Options {
    LivesInput input;
    std::string ratio = "2";
    std::string falseAlarm = "0.05";
    std::string runs = std::to_string(core::kWarningRuns);
    std::string lastDay;
    std::uint64_t seed = 1;
};

struct Request {
    core::EarlyWarningOptions how;
    std::optional<double> lastDay; ///< of a table; without it its last one
};

struct GroupAnswer {
    std::string name;
    core::EarlyWarning warning;       ///< without an error
    std::optional<std::string> error; ///< why nothing is said of it
    int jobs = 0, comebacks = 0;      ///< with an error

    double highest() const {
        double most = 0;
        for (const core::CusumPoint& point : warning.points)
            most = std::max(most, point.value);
        return most;
    }
    /// Where the sum rose, and where it stands at the end.
    std::vector<core::CusumPoint> points() const {
        std::vector<core::CusumPoint> told;
        double before = 0;
        for (const core::CusumPoint& point : warning.points) {
            if (point.value > before || &point == &warning.points.back())
                told.push_back({warning.first + point.day, point.value});
            before = point.value;
        }
        return told;
    }
};

struct Answer {
    WatchedBook book;
    std::vector<GroupAnswer> groups;

    std::size_t watched() const {
        return static_cast<std::size_t>(
            std::count_if(groups.begin(), groups.end(), [](const GroupAnswer& g) { return !g.error; }));
    }
};

Result<Request> requestOf(const Options& options) {
    OptionReader read;
    Request request;
    request.how.hazardRatio = read.number("--ratio", options.ratio);
    if (!(request.how.hazardRatio > 1))
        read.refuse("--ratio", "'" + options.ratio + "' is no acceleration; expected more than 1");
    request.how.falseAlarmAYear = read.share("--false-alarm", options.falseAlarm);
    const std::int64_t runs = read.whole("--runs", options.runs, 1);
    if (runs > 1'000'000)
        read.refuse("--runs", "'" + options.runs + "' is too many; expected 1000000 at most");
    request.how.runs = static_cast<int>(std::min<std::int64_t>(runs, 1'000'000));
    request.how.seed = options.seed;
    if (!options.lastDay.empty())
        request.lastDay = read.number("--last-day", options.lastDay);
    if (!read.result())
        return core::failureOf(read.result());
    if (request.lastDay && !options.input.shop.folder.empty())
        return core::fail(ErrorCode::InvalidInput,
                          "--last-day: a shop is looked at on a date; expected --today YYYY-MM-DD");
    return request;
}

/// How often an expected hazard is looked up: at each comeback, real or simulated, once for each job.
double lookUps(const WatchedGroup& group, const core::UsualHazard& usual, double lastDay, int runs) {
    double comebacks = 0, simulated = 0;
    for (const core::WatchedJob& job : group.jobs) {
        comebacks += job.cameBack ? 1 : 0;
        simulated += -std::expm1(-usual(lastDay - job.enters));
    }
    return static_cast<double>(group.jobs.size()) * (comebacks + runs * simulated);
}

/// The jobs of a group beside those of all other groups, so that a bad one does not count as usual.
Result<GroupAnswer> answerFor(const WatchedBook& book, std::size_t group, double lastDay,
                              const core::EarlyWarningOptions& how) {
    const WatchedGroup& watched = book.groups[group];
    GroupAnswer answer;
    answer.name = watched.name;
    std::vector<core::WatchedJob> others;
    for (std::size_t g = 0; g < book.groups.size(); ++g)
        if (g != group)
            others.insert(others.end(), book.groups[g].jobs.begin(), book.groups[g].jobs.end());
    const auto usual = core::usualHazard(others);
    if (!usual)
        answer.error = "what is usual is unknown: of the other jobs, " + usual.error().detail;
    else if (lookUps(watched, *usual, lastDay, how.runs) > kMostLookUps)
        answer.error = "its " + std::to_string(watched.jobs.size()) +
                       " jobs would take too long to simulate " + std::to_string(how.runs) +
                       " times; expected fewer --runs or smaller groups";
    if (answer.error) {
        answer.jobs = static_cast<int>(watched.jobs.size());
        for (const core::WatchedJob& job : watched.jobs)
            answer.comebacks += job.cameBack ? 1 : 0;
        return answer;
    }
    auto warning = core::earlyWarning(watched.jobs, *usual, lastDay, how);
    if (!warning)
        return core::failureOf(warning);
    answer.warning = std::move(*warning);
    return answer;
}

/// Every part revision or every lot, as the Office has them.
Result<Answer> answerForParts(const Options& options, const Request& request) {
    Answer answer;
    const auto done = withShop(options.input.shop, [&](storage::Shop& shop) -> Result<void> {
        const auto records = readShopRecords(shop, options.input.shop);
        if (!records)
            return core::failureOf(records);
        const auto review = options.input.by == kByLot ? core::reviewLots : core::reviewParts;
        auto parts = review(records->lives, records->shelf, records->today, request.how);
        if (!parts)
            return core::failureOf(parts);
        answer.book.dayZero = core::Date(std::chrono::sys_days());
        for (core::WatchedPart& part : *parts) {
            GroupAnswer& group = answer.groups.emplace_back();
            group.name = part.name;
            group.warning.repairs = part.repairs;
            group.warning.comebacks = part.comebacks;
            group.warning.expected = part.expected;
            group.warning.first = static_cast<double>(core::daysBetween(*answer.book.dayZero, part.since));
            group.warning.points = std::move(part.points);
            group.warning.limit = part.limit;
            group.warning.alarm = part.alarmOn;
        }
        return {};
    });
    if (!done)
        return core::failureOf(done);
    if (answer.groups.empty())
        return core::fail(ErrorCode::NotEstimable,
                          options.input.shop.folder + ": no " + options.input.by + " has been fitted in " +
                              std::to_string(core::kFewestToWatch) + " repairs yet, so none is watched");
    return answer;
}

Result<Answer> answerForGroups(Session& session, const Options& options, const Request& request) {
    auto book = readWatchedBook(session, options.input);
    if (!book)
        return core::failureOf(book);
    Answer answer{std::move(*book), {}};
    const double lastDay = std::max(request.lastDay.value_or(answer.book.lastDay), answer.book.lastEntry);
    if (request.lastDay && *request.lastDay < answer.book.lastEntry)
        return core::fail(ErrorCode::InvalidInput,
                          "--last-day: a job entered the watch later; expected no earlier day");
    for (std::size_t g = 0; g < answer.book.groups.size(); ++g) {
        auto one = answerFor(answer.book, g, lastDay, request.how);
        if (!one)
            return core::failureOf(one);
        answer.groups.push_back(std::move(*one));
    }
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
        json.field("ratio", request.how.hazardRatio);
        json.field("false_alarm", request.how.falseAlarmAYear);
        json.field("false_alarm_of_any",
                   core::chanceOfAnyAlarm(request.how.falseAlarmAYear, answer.watched()));
        json.array("groups", [&] {
            for (const GroupAnswer& group : answer.groups)
                json.object([&] {
                    json.field("group", group.name);
                    const core::EarlyWarning& warning = group.warning;
                    json.field("jobs", static_cast<double>(group.error ? group.jobs : warning.repairs));
                    json.field("comebacks",
                               static_cast<double>(group.error ? group.comebacks : warning.comebacks));
                    if (group.error) {
                        json.field("error", std::string_view(*group.error));
                        return;
                    }
                    json.field("expected", warning.expected);
                    json.field("limit", warning.limit);
                    json.field("highest", group.highest());
                    if (warning.alarm)
                        writeDay(json, "alarm", answer.book, warning.first + *warning.alarm);
                    else
                        json.null("alarm");
                    json.array("points", [&] {
                        for (const core::CusumPoint& point : group.points())
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
            groups.rows.push_back({group.name, static_cast<double>(group.jobs),
                                   static_cast<double>(group.comebacks), Cell(), Cell(), Cell(), Cell(),
                                   *group.error});
            continue;
        }
        const core::EarlyWarning& warning = group.warning;
        groups.rows.push_back({group.name, static_cast<double>(warning.repairs),
                               static_cast<double>(warning.comebacks), warning.expected, group.highest(),
                               warning.limit,
                               warning.alarm ? dayCell(warning.first + *warning.alarm) : Cell(), Cell()});
        for (const core::CusumPoint& point : group.points())
            points.rows.push_back({group.name, dayCell(point.day), point.value});
    }
    Sheet chance{"Chance a year of a warning where all is in order, at most",
                 "chance",
                 {"of_one", "of_any", "watched"},
                 {}};
    const double each = request.how.falseAlarmAYear;
    chance.rows.push_back(
        {each, core::chanceOfAnyAlarm(each, answer.watched()), static_cast<double>(answer.watched())});
    return {std::move(groups), std::move(points), std::move(chance)};
}

Result<void> run(Session& session, const Options& options) {
    const auto request = requestOf(options);
    if (!request)
        return core::failureOf(request);
    const bool ofShop = !options.input.shop.folder.empty() && options.input.csv.empty();
    const bool ofParts = options.input.by == kByPart || options.input.by == kByLot;
    const auto answered =
        ofShop && ofParts ? answerForParts(options, *request) : answerForGroups(session, options, *request);
    if (!answered)
        return core::failureOf(answered);
    const Answer& answer = *answered;
    if (session.format == Format::Json)
        writeJson(session, answer, *request);
    else
        appendSheets(session, sheetsOf(answer, *request));
    return {};
}

} // namespace

Action setUpEarlyWarning(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    options->input.by = kByPart;
    addLivesInput(command, options->input);
    CLI::Option* const by = command.get_option("--by");
    by->description(
        "of a shop: part (phasers, valves, chain sets and tensioners at each revision, against the "
        "others of their kind), lot, or groups against all others: " +
        by->get_description().substr(by->get_description().find(':') + 2));
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
    command
        .add_option("--last-day", options->lastDay,
                    "of a table: the day on which it is looked at (default: its last)")
        ->type_name("DAY");
    command.add_option("--seed", options->seed, "start of the simulation")
        ->type_name("NUMBER")
        ->capture_default_str();
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
