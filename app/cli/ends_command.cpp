// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/ends_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/option_reader.h"
#include "app/cli/sheet.h"
#include "core/survival/ends.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <memory>
#include <optional>

namespace milehold::cli {

using core::EndCode;
using core::Result;

namespace {

struct Options {
    LivesInput input;
    std::string at;
};

struct Answer {
    std::vector<std::string> groupNames;
    std::vector<std::string> endNames; // by code
    std::vector<EndCode> ends;
    std::vector<double> at;
    std::vector<core::EndCurves> groups;
    std::vector<std::optional<core::ChiSquare>> tests; // one an end, when there are groups to compare
};

// Every end that the table names, comebacks first, then by their names.
std::vector<EndCode> endsOf(const core::Lives& lives) {
    std::vector<EndCode> ends;
    if (std::find(lives.end.begin(), lives.end.end(), core::kCameBack) != lives.end.end())
        ends.push_back(core::kCameBack);
    for (std::size_t code = core::kFirstOtherEnd; code < lives.endNames.size(); ++code)
        ends.push_back(static_cast<EndCode>(code));
    std::sort(ends.begin(), ends.end(), [&](EndCode a, EndCode b) {
        const bool aFirst = a == core::kCameBack;
        const bool bFirst = b == core::kCameBack;
        return aFirst != bFirst ? aFirst : lives.endNames[a] < lives.endNames[b];
    });
    return ends;
}

Result<Answer> answerOf(const core::Lives& lives, std::vector<double> at) {
    Answer answer;
    answer.groupNames = lives.groupNames;
    answer.endNames = lives.endNames;
    answer.ends = endsOf(lives);
    answer.at = std::move(at);
    const std::vector<core::Counts> counts = core::countsByGroup(lives, true);
    for (const core::Counts& group : counts) {
        auto curves = core::endCurves(group, answer.ends);
        if (!curves)
            return core::failureOf(curves);
        answer.groups.push_back(std::move(*curves));
    }
    if (counts.size() < 2)
        return answer;
    for (const EndCode end : answer.ends) {
        const auto test = core::grayTest(counts, end);
        answer.tests.push_back(test ? std::optional(*test) : std::nullopt);
    }
    return answer;
}

void writeEnd(JsonWriter& json, const Answer& answer, const core::EndCurves& curves,
              const core::EndCurve& end) {
    json.field("end", answer.endNames[end.end]);
    json.field("count", end.count);
    json.array("steps", [&] {
        for (std::size_t i = 0; i < curves.miles.size(); ++i)
            json.object([&] {
                json.field("miles", curves.miles[i]);
                json.field("incidence", end.incidence[i]);
                json.field("se", end.se[i]);
            });
    });
    json.array("at", [&] {
        for (const double miles : answer.at) {
            const core::EndPoint point = core::incidenceAt(curves, end, miles);
            json.object([&] {
                json.field("miles", point.miles);
                json.field("incidence", point.incidence);
                json.field("se", point.se);
            });
        }
    });
}

void writeJson(Session& session, const Answer& answer) {
    JsonWriter json(session.out);
    json.object([&] {
        json.array("groups", [&] {
            for (std::size_t g = 0; g < answer.groups.size(); ++g)
                json.object([&] {
                    const core::EndCurves& curves = answer.groups[g];
                    json.field("group", answer.groupNames[g]);
                    json.field("lives", curves.lives);
                    json.array("ends", [&] {
                        for (const core::EndCurve& end : curves.ends)
                            json.object([&] { writeEnd(json, answer, curves, end); });
                    });
                });
        });
        json.array("gray", [&] {
            for (std::size_t e = 0; e < answer.tests.size(); ++e)
                json.object([&] {
                    const auto& test = answer.tests[e];
                    json.field("end", answer.endNames[answer.ends[e]]);
                    json.field("chi_square", test ? std::optional(test->value) : std::nullopt);
                    json.field("df", test ? std::optional(test->df) : std::nullopt);
                    json.field("p", test ? std::optional(test->p) : std::nullopt);
                });
        });
    });
    session.out += '\n';
}

std::vector<Sheet> sheetsOf(const Answer& answer) {
    std::vector<Sheet> sheets;
    Sheet groups{"Groups", "group", {"group", "lives", "longest_watched"}, {}};
    for (std::size_t g = 0; g < answer.groups.size(); ++g)
        groups.rows.push_back(
            {answer.groupNames[g], answer.groups[g].lives, answer.groups[g].longestWatched});
    sheets.push_back(std::move(groups));
    for (std::size_t g = 0; g < answer.groups.size(); ++g) {
        const core::EndCurves& curves = answer.groups[g];
        for (const core::EndCurve& end : curves.ends) {
            const std::string& name = answer.endNames[end.end];
            const std::string& group = answer.groupNames[g];
            Sheet steps{"Group " + group + ", " + name + ": " + fullDigits(end.count) + " of " +
                            fullDigits(curves.lives),
                        "step",
                        {"group", "end", "miles", "incidence", "se"},
                        {}};
            for (std::size_t i = 0; i < curves.miles.size(); ++i)
                steps.rows.push_back({group, name, curves.miles[i], end.incidence[i], end.se[i]});
            sheets.push_back(std::move(steps));
            if (answer.at.empty())
                continue;
            Sheet at{"At the mileages asked for", "at", {"group", "end", "miles", "incidence", "se"}, {}};
            for (const double miles : answer.at) {
                const core::EndPoint point = core::incidenceAt(curves, end, miles);
                at.rows.push_back({group, name, miles, cellOf(point.incidence), cellOf(point.se)});
            }
            sheets.push_back(std::move(at));
        }
    }
    if (answer.tests.empty())
        return sheets;
    Sheet tests{"Do the groups share one incidence?", "test", {"end", "chi_square", "df", "p"}, {}};
    for (std::size_t e = 0; e < answer.tests.size(); ++e) {
        const auto& test = answer.tests[e];
        tests.rows.push_back({answer.endNames[answer.ends[e]], test ? Cell(test->value) : Cell(),
                              test ? Cell(test->df) : Cell(), test ? Cell(test->p) : Cell()});
    }
    sheets.push_back(std::move(tests));
    return sheets;
}

Result<void> run(Session& session, const Options& options) {
    OptionReader read;
    std::vector<double> at = read.mileages("--at", options.at);
    if (!read.result())
        return read.result();
    const auto table = readLives(session, options.input);
    if (!table)
        return core::failureOf(table);
    const auto answer = answerOf(table->lives, std::move(at));
    if (!answer)
        return core::failureOf(answer);
    if (answer->groups.size() > core::kMostGrayGroups)
        session.err << "milehold-cli: note: Gray's test is left out: it compares " << core::kMostGrayGroups
                    << " groups at most\n";
    if (session.format == Format::Json)
        writeJson(session, *answer);
    else
        appendSheets(session, sheetsOf(*answer));
    return {};
}

} // namespace

Action setUpEnds(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addLivesInput(command, options->input);
    addAtOption(command, options->at, "mileages to read the incidences at");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
