// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/evidence_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/option_reader.h"
#include "app/cli/sheet.h"
#include "app/cli/shop_records.h"
#include "core/life/evidence.h"
#include "core/life/readings.h"
#include "core/shop/labels.h"

#include <CLI/CLI.hpp>

#include <memory>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

struct Options {
    ShopInput shop;
    std::string by = "path";
    std::string at;
    std::string horizon;
    std::string claim;
};

struct Request {
    core::DistanceUnit unit = core::DistanceUnit::Miles;
    std::vector<double> at;
    std::optional<core::Distance> horizon;
    std::optional<double> claim;
};

struct GroupAnswer {
    std::string name;
    core::Evidence evidence;
    std::vector<core::ThreeReadings> at;
    std::optional<core::TippingPoint> tipping;
};

Result<Request> requestOf(const Options& options, core::DistanceUnit unit) {
    OptionReader read;
    Request request;
    request.unit = unit;
    request.at = read.mileages("--at", options.at);
    if (!options.horizon.empty())
        request.horizon = core::Distance::from(
            std::min(read.whole("--horizon", options.horizon, 1), core::Distance::kMost), unit);
    if (!options.claim.empty())
        request.claim = read.share("--claim", options.claim);
    if (request.claim && !request.horizon)
        read.refuse("--claim", "holds at a distance; expected --horizon too");
    if (!read.result())
        return core::failureOf(read.result());
    return request;
}

Result<GroupAnswer> answerFor(const std::string& name, const std::vector<core::Life>& lives,
                              const Request& request) {
    GroupAnswer answer;
    answer.name = name;
    const auto evidence = core::evidenceOf(lives, request.unit, request.horizon);
    if (!evidence)
        return core::failureOf(evidence);
    answer.evidence = *evidence;
    if (!request.at.empty()) {
        // Without a life that contributes there is no curve: only the counts are shown then.
        const auto curves = core::readingCurves(lives, request.unit);
        if (!curves && curves.error().code != core::ErrorCode::NotEstimable)
            return core::failureOf(curves);
        for (const double miles : curves ? request.at : std::vector<double>())
            answer.at.push_back(curves->at(miles));
    }
    if (request.claim) {
        const auto tipping = core::tippingPoint(lives, request.unit, *request.claim, *request.horizon);
        if (tipping)
            answer.tipping = *tipping;
        else if (tipping.error().code != core::ErrorCode::NotEstimable)
            return core::failureOf(tipping);
    }
    return answer;
}

const char* wordOf(core::TippingPoint::Verdict verdict) {
    switch (verdict) {
    case core::TippingPoint::Verdict::Falls:
        return "falls";
    case core::TippingPoint::Verdict::HoldsAnyway:
        return "holds-anyway";
    case core::TippingPoint::Verdict::FailsAnyway:
        return "fails-anyway";
    case core::TippingPoint::Verdict::NothingUnseen:
        break;
    }
    return "nothing-unseen";
}

void writeGroup(JsonWriter& json, const GroupAnswer& group, const Request& request) {
    const core::Evidence& e = group.evidence;
    const auto count = [&](const char* name, std::size_t number) {
        json.field(name, static_cast<double>(number));
    };
    json.field("group", group.name);
    count("lives", e.lives);
    count("contributing", e.contributing);
    count("holding", e.holding);
    count("came_back", e.cameBack);
    count("never_held", e.neverHeld);
    count("lost_sight", e.lostSight);
    count("ended_otherwise", e.endedOtherwise);
    json.field("known", e.known);
    json.object("unseen", [&] {
        json.field("all", e.unseen.all());
        json.field("holding", e.unseen.holding);
        json.field("sold", e.unseen.sold);
        json.field("do_not_call", e.unseen.doNotCall);
        json.field("no_contact", e.unseen.noContact);
        json.field("before_end", e.unseen.beforeEnd);
    });
    json.field("completeness", e.completeness);
    json.field("median_watch", e.medianWatch);
    json.array("at", [&] {
        for (const core::ThreeReadings& point : group.at)
            json.object([&] {
                json.field("miles", point.miles);
                json.field("best", point.best);
                json.field("known", point.known);
                json.field("worst", point.worst);
            });
    });
    if (!request.claim)
        return;
    if (!group.tipping) {
        json.null("tipping");
        return;
    }
    json.object("tipping", [&] {
        json.field("claim", *request.claim);
        json.field("verdict", wordOf(group.tipping->verdict));
        json.field("share", group.tipping->share);
        json.field("unseen_lives", static_cast<double>(group.tipping->unseenLives));
        json.field("best", group.tipping->best);
        json.field("worst", group.tipping->worst);
    });
}

void writeJson(Session& session, const std::vector<GroupAnswer>& groups, const Request& request) {
    JsonWriter json(session.out);
    json.object([&] {
        json.field("unit", core::shortName(request.unit));
        json.field("horizon", request.horizon ? std::optional<double>(
                                                    static_cast<double>(request.horizon->whole(request.unit)))
                                              : std::nullopt);
        json.array("groups", [&] {
            for (const GroupAnswer& group : groups)
                json.object([&] { writeGroup(json, group, request); });
        });
    });
    session.out += '\n';
}

std::vector<Sheet> sheetsOf(const std::vector<GroupAnswer>& groups) {
    Sheet counts{"What is known of the repairs",
                 "group",
                 {"group", "lives", "contributing", "came_back", "lost_sight", "known", "unseen",
                  "completeness", "median_watch"},
                 {}};
    Sheet at{"Still quiet, by three readings of what is unseen",
             "at",
             {"group", "miles", "best", "known", "worst"},
             {}};
    Sheet tipping{"How many of the unseen would have to have failed right away",
                  "tipping",
                  {"group", "verdict", "share", "unseen_lives", "best", "worst"},
                  {}};
    for (const GroupAnswer& group : groups) {
        const core::Evidence& e = group.evidence;
        counts.rows.push_back({group.name, static_cast<double>(e.lives), static_cast<double>(e.contributing),
                               static_cast<double>(e.cameBack + e.neverHeld),
                               static_cast<double>(e.lostSight), e.known, e.unseen.all(),
                               cellOf(e.completeness), cellOf(e.medianWatch)});
        for (const core::ThreeReadings& point : group.at)
            at.rows.push_back(
                {group.name, point.miles, cellOf(point.best), cellOf(point.known), cellOf(point.worst)});
        if (group.tipping)
            tipping.rows.push_back(
                {group.name, std::string(wordOf(group.tipping->verdict)), cellOf(group.tipping->share),
                 static_cast<double>(group.tipping->unseenLives), group.tipping->best, group.tipping->worst});
    }
    std::vector<Sheet> sheets = {std::move(counts)};
    for (Sheet* sheet : {&at, &tipping})
        if (!sheet->rows.empty())
            sheets.push_back(std::move(*sheet));
    return sheets;
}

Result<void> run(Session& session, const Options& options) {
    return withShop(options.shop, [&](storage::Shop& shop) -> Result<void> {
        const auto records = readShopRecords(shop, options.shop);
        if (!records)
            return core::failureOf(records);
        const auto request = requestOf(options, records->settings.unit);
        if (!request)
            return core::failureOf(request);
        const auto members = groupsBy(*records, options.by);
        if (!members)
            return core::failureOf(members);
        std::vector<GroupAnswer> groups;
        for (const auto& [name, rows] : *members) {
            std::vector<core::Life> lives;
            for (const std::size_t i : rows)
                lives.push_back(records->lives[i].life);
            auto answer = answerFor(name, lives, *request);
            if (!answer)
                return core::failureOf(answer);
            groups.push_back(std::move(*answer));
        }
        if (groups.empty())
            return core::fail(ErrorCode::NotEstimable,
                              options.shop.folder + ": the shop has no finished repair yet");
        if (session.format == Format::Json)
            writeJson(session, groups, *request);
        else
            appendSheets(session, sheetsOf(groups));
        return {};
    });
}

} // namespace

Action setUpEvidence(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addShopInput(command, options->shop);
    addByOption(command, options->by);
    addAtOption(command, options->at, "distances to read the three curves at, in the shop's unit");
    command.add_option("--horizon", options->horizon, "count what was and was not seen within this distance")
        ->type_name("DISTANCE");
    command
        .add_option("--claim", options->claim,
                    "chance to be quiet at the horizon: how many of the unseen would overthrow it")
        ->type_name("SHARE");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
