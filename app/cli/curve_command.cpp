// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/curve_command.h"

#include "app/cli/curve_answer.h"
#include "app/cli/lives_input.h"
#include "app/cli/option_reader.h"
#include "app/cli/shop_records.h"
#include "core/quote/evidence_facts.h"
#include "core/quote/path_evidence.h"

#include <CLI/CLI.hpp>

#include <memory>
#include <optional>
#include <ostream>

namespace milehold::cli {

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

constexpr OptionReader::Word<LimitMethod> kLimits[] = {{"exact", LimitMethod::Exact},
                                                       {"exact-mid-p", LimitMethod::ExactMidP},
                                                       {"log-log", LimitMethod::LogLog},
                                                       {"log", LimitMethod::Log},
                                                       {"linear", LimitMethod::Linear}};

enum class Estimator : std::uint8_t { ByTable, ProductLimit, Intervals };
constexpr OptionReader::Word<Estimator> kEstimators[] = {{"auto", Estimator::ByTable},
                                                         {"kaplan-meier", Estimator::ProductLimit},
                                                         {"turnbull", Estimator::Intervals}};

Result<CurveRequest> requestOf(const Options& options, Estimator& estimator) {
    OptionReader read;
    CurveRequest request;
    request.curve.level = read.share("--level", options.level);
    request.curve.limits = read.oneOf<LimitMethod>("--limits", options.limits, kLimits);
    request.limits = options.limits;
    request.at = read.mileages("--at", options.at);
    request.tau = read.mileage("--tau", options.tau);
    request.given = read.mileage("--given", options.given);
    estimator = read.oneOf<Estimator>("--estimator", options.estimator, kEstimators);
    if (!read.result())
        return core::failureOf(read.result());
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

Result<void> answer(Session& session, const core::Lives& lives, Estimator estimator,
                    const CurveRequest& request) {
    const bool intervals = lives.hasIntervals();
    if (estimator == Estimator::Intervals || (estimator == Estimator::ByTable && intervals))
        return answerByIntervals(session, lives, request);
    if (intervals)
        session.err << "milehold-cli: note: kaplan-meier takes a comeback that lies in an interval at its "
                       "beginning\n";
    return answerByProductLimit(session, lives, request);
}

Result<void> run(Session& session, const Options& options) {
    Estimator estimator = Estimator::ByTable;
    const auto request = requestOf(options, estimator);
    if (!request)
        return core::failureOf(request);
    LivesInput input = options.input;
    input.keepIntervals = options.estimator == "turnbull";
    const auto table = readLives(session, input);
    if (!table)
        return core::failureOf(table);
    if (auto answered = answer(session, table->lives, estimator, *request); !answered)
        return answered;
    const bool ofShop = !options.input.shop.folder.empty();
    return ofShop && session.format == Format::Text ? addEvidence(session, options, *request)
                                                    : Result<void>();
}

} // namespace

Action setUpCurve(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addLivesInput(command, options->input);
    addLevelOption(command, options->level);
    command.add_option("--limits", options->limits, "exact, exact-mid-p, log-log, log or linear")
        ->type_name("METHOD")
        ->capture_default_str();
    addAtOption(command, options->at, "mileages to read the curve at");
    command.add_option("--tau", options->tau, "horizon of the mean miles")->type_name("MILES");
    command.add_option("--given", options->given, "answer --at for a repair that has run so far")
        ->type_name("MILES");
    command.add_option("--estimator", options->estimator, "auto, kaplan-meier or turnbull")
        ->type_name("NAME")
        ->capture_default_str();
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
