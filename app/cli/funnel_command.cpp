// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/funnel_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/sheet.h"
#include "core/watch/funnel.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace milehold::cli {

using core::Result;

namespace {

void writeJson(Session& session, const core::Funnel& funnel) {
    JsonWriter json(session.out);
    json.object([&] {
        json.field("over_dispersion", funnel.overDispersion);
        json.array("groups", [&] {
            for (const core::FunnelPoint& point : funnel.points)
                json.object([&] {
                    json.field("group", point.name);
                    json.field("observed", point.observed);
                    json.field("expected", point.expected);
                    json.field("ratio", point.ratio);
                    json.field("lower_95", point.lower95);
                    json.field("upper_95", point.upper95);
                    json.field("lower_99.8", point.lower998);
                    json.field("upper_99.8", point.upper998);
                });
        });
    });
    session.out += '\n';
}

std::vector<Sheet> sheetsOf(const core::Funnel& funnel) {
    Sheet groups{"Comebacks over those expected, with the limits of chance",
                 "group",
                 {"group", "observed", "expected", "ratio", "lower_95", "upper_95", "lower_99.8",
                  "upper_99.8"},
                 {}};
    for (const core::FunnelPoint& p : funnel.points)
        groups.rows.push_back(
            {p.name, p.observed, p.expected, p.ratio, p.lower95, p.upper95, p.lower998, p.upper998});
    Sheet spread{"Do they differ more than chance makes them", "spread", {"over_dispersion"}, {}};
    spread.rows.push_back({funnel.overDispersion});
    return {std::move(groups), std::move(spread)};
}

Result<void> run(Session& session, const LivesInput& input) {
    const auto table = readLives(session, input);
    if (!table)
        return core::failureOf(table);
    const core::Funnel funnel = core::funnel(core::observedAndExpected(table->lives));
    if (funnel.points.empty())
        return core::fail(core::ErrorCode::NotEstimable,
                          "no comeback is expected of anybody: the lives hold none");
    if (session.format == Format::Json)
        writeJson(session, funnel);
    else
        appendSheets(session, sheetsOf(funnel));
    return {};
}

} // namespace

Action setUpFunnel(CLI::App& command) {
    const auto input = std::make_shared<LivesInput>();
    input->by = "technician";
    addLivesInput(command, *input);
    return [input](Session& session) { return run(session, *input); };
}

} // namespace milehold::cli
