// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/curve_command.h"

#include "app/cli/curve_answer.h"
#include "app/cli/lives_input.h"
#include "app/cli/shop_records.h"
#include "core/quote/evidence_facts.h"
#include "core/quote/path_evidence.h"

#include <CLI/CLI.hpp>

#include <memory>
#include <optional>
#include <ostream>

namespace milehold::cli {

using core::ErrorCode;
using core::LimitMethod;
using core::Result;

namespace {

struct Options {
    LivesInput input;
    std::string level = "0.95";
    std::string limits = "exact";
    std::string at;
    std::string tau;
    std::string given;
    std::string estimator = "auto";
};

struct LimitName {
    const char* name;
    LimitMethod method;
};
constexpr LimitName kLimits[] = {{"exact", LimitMethod::Exact},
                                 {"exact-mid-p", LimitMethod::ExactMidP},
                                 {"log-log", LimitMethod::LogLog},
                                 {"log", LimitMethod::Log},
                                 {"linear", LimitMethod::Linear}};

Result<LimitMethod> limitsOption(const std::string& text) {
    for (const LimitName& limit : kLimits)
        if (text == limit.name)
            return limit.method;
    return core::fail(ErrorCode::InvalidInput,
                      "--limits: '" + text +
                          "' is unknown; expected exact, exact-mid-p, log-log, log or linear");
}

Result<std::optional<double>> oneMileage(std::string_view option, const std::string& text) {
    if (text.empty())
        return std::optional<double>();
    const auto value = numberOption(option, text);
    if (!value)
        return core::failureOf(value);
    if (*value < 0)
        return core::fail(ErrorCode::InvalidInput, std::string(option) + ": '" + text +
                                                       "' is negative; expected a mileage of 0 or more");
    return std::optional<double>(*value);
}

Result<CurveRequest> requestOf(const Options& options) {
    CurveRequest request;
    const auto level = shareOption("--level", options.level);
    if (!level)
        return core::failureOf(level);
    const auto limits = limitsOption(options.limits);
    if (!limits)
        return core::failureOf(limits);
    auto at = mileagesOption("--at", options.at);
    if (!at)
        return core::failureOf(at);
    const auto tau = oneMileage("--tau", options.tau);
    if (!tau)
        return core::failureOf(tau);
    const auto given = oneMileage("--given", options.given);
    if (!given)
        return core::failureOf(given);
    if (options.estimator != "auto" && options.estimator != "kaplan-meier" && options.estimator != "turnbull")
        return core::fail(ErrorCode::InvalidInput,
                          "--estimator: '" + options.estimator +
                              "' is unknown; expected auto, kaplan-meier or turnbull");
    request.curve = {*level, *limits};
    request.limits = options.limits;
    request.at = std::move(*at);
    request.tau = *tau;
    request.given = *given;
    return request;
}

/// How complete the follow-up of each group is, under the figures of a shop: at the first mileage asked for,
/// without one only what is known, unseen and lost.
Result<void> addEvidence(Session& session, const Options& options, const CurveRequest& request) {
    return withShop(options.input.shop, [&](storage::Shop& shop) -> Result<void> {
        const auto records = readShopRecords(shop, options.input.shop);
        if (!records)
            return core::failureOf(records);
        const auto members = groupsBy(*records, options.input.by);
        if (!members)
            return core::failureOf(members);
        session.out += "\nHow well this is known\n";
        for (const auto& [name, rows] : *members) {
            std::vector<core::Life> lives;
            for (const std::size_t i : rows)
                lives.push_back(records->lives[i].life);
            const double horizon = request.at.empty() ? 0 : request.at.front();
            core::QuotePoint at;
            at.few = at.beyond = true;
            const core::Counts counts =
                core::countsOfAll(core::toColumns(lives, records->settings.unit).lives);
            if (horizon > 0 && counts.size() > 0) {
                const auto watched = core::WatchedSet::of(counts, request.curve.level);
                if (!watched)
                    return core::failureOf(watched);
                at = watched->pointAt(horizon);
            }
            const auto facts = core::evidenceFacts(lives, records->settings.unit, horizon, at);
            if (!facts)
                return core::failureOf(facts);
            session.out += name + ": " + core::evidenceLine(*facts) + "\n";
        }
        return {};
    });
}

Result<void> answer(Session& session, const core::Lives& lives, const Options& options,
                    const CurveRequest& request) {
    const bool intervals = lives.hasIntervals();
    if (options.estimator == "turnbull" || (options.estimator == "auto" && intervals))
        return answerByIntervals(session, lives, request);
    if (intervals)
        session.err << "milehold-cli: note: kaplan-meier takes a comeback that lies in an interval at its "
                       "beginning\n";
    return answerByProductLimit(session, lives, request);
}

Result<void> run(Session& session, const Options& options) {
    const auto request = requestOf(options);
    if (!request)
        return core::failureOf(request);
    LivesInput input = options.input;
    input.keepIntervals = options.estimator == "turnbull";
    const auto table = readLives(session, input);
    if (!table)
        return core::failureOf(table);
    if (auto answered = answer(session, table->lives, options, *request); !answered)
        return answered;
    const bool ofShop = !options.input.shop.folder.empty();
    return ofShop && session.format == Format::Text ? addEvidence(session, options, *request)
                                                    : Result<void>();
}

} // namespace

Action setUpCurve(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addLivesInput(command, options->input);
    command.add_option("--level", options->level, "two-sided level of the limits")
        ->type_name("SHARE")
        ->capture_default_str();
    command.add_option("--limits", options->limits, "exact, exact-mid-p, log-log, log or linear")
        ->type_name("METHOD")
        ->capture_default_str();
    command.add_option("--at", options->at, "mileages to read the curve at")->type_name("MILES,...");
    command.add_option("--tau", options->tau, "horizon of the mean miles")->type_name("MILES");
    command.add_option("--given", options->given, "answer --at for a repair that has run so far")
        ->type_name("MILES");
    command.add_option("--estimator", options->estimator, "auto, kaplan-meier or turnbull")
        ->type_name("NAME")
        ->capture_default_str();
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
