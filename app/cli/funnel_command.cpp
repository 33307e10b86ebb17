// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/funnel_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/lives_input.h"
#include "app/cli/sheet.h"
#include "core/watch/funnel.h"

#include <CLI/CLI.hpp>

#include <memory>
#include <string>

namespace milehold::cli {

using core::Result;

namespace {

struct Options {
    LivesInput input;
    bool stratum = false;
};

/// What the expected comebacks are told apart by; empty: by nothing.
std::string strataOf(const Options& options) {
    if (options.input.shop.folder.empty())
        return options.stratum ? "stratum" : "";
    if (!options.input.stratumBy.empty())
        return options.input.stratumBy;
    return options.input.by == "path" ? ""
                                      : "path"; // among paths, a path's own hazard would hide what differs
}

void writeJson(Session& session, const core::Funnel& funnel, const std::string& strata) {
    JsonWriter json(session.out);
    json.object([&] {
        if (strata.empty())
            json.null("expected_by");
        else
            json.field("expected_by", std::string_view(strata));
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

std::vector<Sheet> sheetsOf(const core::Funnel& funnel, const std::string& strata) {
    Sheet groups{
        "Comebacks over those expected" +
            (strata.empty() ? std::string(" of all together") : " of the same " + strata) +
            ", with the limits of chance",
        "group",
        {"group", "observed", "expected", "ratio", "lower_95", "upper_95", "lower_99.8", "upper_99.8"},
        {}};
    for (const core::FunnelPoint& p : funnel.points)
        groups.rows.push_back(
            {p.name, p.observed, p.expected, p.ratio, p.lower95, p.upper95, p.lower998, p.upper998});
    Sheet spread{"Do they differ more than chance makes them", "spread", {"over_dispersion"}, {}};
    spread.rows.push_back({funnel.overDispersion});
    return {std::move(groups), std::move(spread)};
}

Result<void> run(Session& session, const Options& options) {
    const std::string strata = strataOf(options);
    LivesInput input = options.input;
    storage::LivesTableOptions how;
    how.needStratum = !strata.empty();
    if (!input.shop.folder.empty())
        input.stratumBy = strata;
    const auto table = readLives(session, input, how);
    if (!table)
        return core::failureOf(table);
    const core::Funnel funnel = core::funnel(core::observedAndExpected(table->lives, !strata.empty()));
    if (funnel.points.empty())
        return core::fail(core::ErrorCode::NotEstimable,
                          "no comeback is expected of anybody: the lives hold none");
    if (session.format == Format::Json)
        writeJson(session, funnel, strata);
    else
        appendSheets(session, sheetsOf(funnel, strata));
    return {};
}

} // namespace

Action setUpFunnel(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    options->input.by = "technician";
    addLivesInput(command, options->input);
    addStrataInput(command, options->input);
    command.add_flag(
        "--stratum", options->stratum,
        "expect what is usual in the life's own stratum (column stratum); a shop's lives are always set "
        "against those of their own path, or of --stratum-by");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
