// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/calls_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/option_reader.h"
#include "app/cli/sheet.h"
#include "app/cli/shop_records.h"
#include "core/life/calls.h"
#include "core/shop/labels.h"
#include "storage/customer_store.h"
#include "storage/exchange/cells.h"
#include "storage/exchange/exchange_store.h"
#include "storage/follow_up_store.h"
#include "storage/vehicle_store.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <cmath>
#include <memory>
#include <unordered_map>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

struct Options {
    ShopInput shop;
    std::string most = "20";
    std::string horizon;
    std::string level = "0.95";
    bool people = false;
};

/// One call as it is answered. Whoever is behind it is empty where people are left out.
struct CallRow {
    core::RankedCall call;
    const core::LifeRecord* record = nullptr;
    std::string path;
    std::string customer;
    std::vector<std::string> phones;
    std::string bestTime;
};

struct Answer {
    core::CallOptions options;
    double horizon = 0;
    std::size_t mayBeCalled = 0; ///< of whom the first rows are shown
    bool people = false;
    std::vector<CallRow> rows;
};

Result<void> addPeople(storage::Shop& shop, CallRow& row) {
    const auto vehicle = shop.vehicles().find(row.call.vehicle);
    if (!vehicle)
        return core::failureOf(vehicle);
    if (!vehicle->customer)
        return {};
    const auto customer = shop.customers().find(*vehicle->customer);
    if (!customer)
        return core::failureOf(customer);
    row.customer = customer->name;
    row.phones = customer->phones;
    row.bestTime = customer->bestTime;
    return {};
}

Result<Answer> answerOf(storage::Shop& shop, const Options& options, const ShopRecords& records,
                        bool people) {
    OptionReader read;
    Answer answer;
    answer.people = people;
    answer.options.unit = records.settings.unit;
    answer.options.today = records.today;
    answer.options.level = read.share("--level", options.level);
    const std::int64_t most = read.whole("--most", options.most, 1);
    if (!options.horizon.empty())
        answer.options.horizon =
            core::Distance::from(std::min(read.whole("--horizon", options.horizon, 1), core::Distance::kMost),
                                 records.settings.unit);
    answer.horizon = static_cast<double>(answer.options.horizon.whole(records.settings.unit));
    if (!read.result())
        return core::failureOf(read.result());

    const auto facts = shop.followUps().callFacts(records.today);
    if (!facts)
        return core::failureOf(facts);
    auto ranked = core::rankCalls(records.lives, *facts, records.names(), answer.options);
    if (!ranked)
        return core::failureOf(ranked);
    answer.mayBeCalled = ranked->size();
    std::unordered_map<core::JobId, const core::LifeRecord*> recordOf;
    for (const core::LifeRecord& record : records.lives)
        recordOf.emplace(record.life.job, &record);
    for (std::size_t i = 0; i < ranked->size() && i < static_cast<std::size_t>(most); ++i) {
        CallRow row;
        row.call = std::move((*ranked)[i]);
        row.record = recordOf.at(row.call.job);
        if (row.record->life.path)
            if (const core::RepairPath* path = records.shelf.find(*row.record->life.path))
                row.path = path->name;
        if (people)
            if (const auto added = addPeople(shop, row); !added)
                return core::failureOf(added);
        answer.rows.push_back(std::move(row));
    }
    return answer;
}

void writeCall(JsonWriter& json, const CallRow& row, const Answer& answer) {
    const core::Life& life = row.record->life;
    json.field("job", static_cast<double>(row.record->jobNumber));
    json.field("repair_order", row.record->repairOrder);
    json.field("vehicle", row.record->vehicleLabel);
    json.field("path", row.path);
    json.field("repaired_on", core::toIso(life.repairedOn));
    json.field("last_known_on", core::toIso(life.lastKnownOn));
    json.field("known", life.known.in(answer.options.unit));
    json.field("unseen", life.unseen.in(answer.options.unit));
    json.field("shrink", row.call.shrink);
    json.field("chance_noisy", row.call.chanceNoisy);
    json.field("warranty_open", row.call.warrantyOpen);
    if (row.call.warrantyEnds)
        json.field("warranty_ends", core::toIso(*row.call.warrantyEnds));
    else
        json.null("warranty_ends");
    json.field("minutes", row.call.minutes);
    json.field("worth_a_minute", row.call.worthAMinute);
    json.field("reason", row.call.reason);
    if (!answer.people)
        return;
    json.field("customer", row.customer);
    json.array("phones", [&] {
        for (const std::string& phone : row.phones)
            json.value(std::string_view(phone));
    });
    json.field("best_time", row.bestTime);
}

void writeJson(Session& session, const Answer& answer) {
    JsonWriter json(session.out);
    json.object([&] {
        json.field("today", core::toIso(answer.options.today));
        json.field("unit", core::shortName(answer.options.unit));
        json.field("horizon", answer.horizon);
        json.field("level", answer.options.level);
        json.field("may_be_called", static_cast<double>(answer.mayBeCalled));
        json.array("calls", [&] {
            for (const CallRow& row : answer.rows)
                json.object([&] { writeCall(json, row, answer); });
        });
    });
    session.out += '\n';
}

std::string phonesOf(const CallRow& row) {
    std::string all;
    for (const std::string& phone : row.phones)
        all += (all.empty() ? "" : ", ") + phone;
    return all;
}

Sheet csvSheet(const Answer& answer) {
    Sheet sheet{"",
                "call",
                {"job", "repair_order", "vehicle", "path", "repaired_on", "last_known_on", "known", "unseen",
                 "shrink", "chance_noisy", "warranty_open", "warranty_ends", "minutes", "worth_a_minute",
                 "reason"},
                {}};
    if (answer.people)
        sheet.columns.insert(sheet.columns.end(), {"customer", "phones", "best_time"});
    for (const CallRow& row : answer.rows) {
        const core::Life& life = row.record->life;
        const auto words = [](const std::string& text) { return Cell(storage::guarded(text)); };
        sheet.rows.push_back({static_cast<double>(row.record->jobNumber), words(row.record->repairOrder),
                              words(row.record->vehicleLabel), words(row.path), core::toIso(life.repairedOn),
                              core::toIso(life.lastKnownOn), life.known.in(answer.options.unit),
                              life.unseen.in(answer.options.unit), row.call.shrink, row.call.chanceNoisy,
                              std::string(row.call.warrantyOpen ? "yes" : "no"),
                              row.call.warrantyEnds ? Cell(core::toIso(*row.call.warrantyEnds)) : Cell(),
                              row.call.minutes, row.call.worthAMinute, words(row.call.reason)});
        if (answer.people)
            sheet.rows.back().insert(sheet.rows.back().end(),
                                     {words(row.customer), words(phonesOf(row)), words(row.bestTime)});
    }
    return sheet;
}

/// The shop's own list, for the hand that holds the telephone.
void writeText(Session& session, const Answer& answer) {
    const std::string unit(core::shortName(answer.options.unit));
    session.out += std::to_string(answer.rows.size()) + " of " + std::to_string(answer.mayBeCalled) +
                   " who may be called, the most worth a minute first; limits at " +
                   fullDigits(answer.horizon) + " " + unit + ", " + core::toIso(answer.options.today) + "\n";
    Sheet sheet{"", "call", {"job", "vehicle", "customer", "phones", "best_time", "minutes"}, {}};
    for (const CallRow& row : answer.rows)
        sheet.rows.push_back({static_cast<double>(row.record->jobNumber), row.record->vehicleLabel,
                              row.customer, phonesOf(row), row.bestTime, row.call.minutes});
    if (sheet.rows.empty())
        return;
    appendText(session.out, {sheet});
    session.out += '\n';
    for (const CallRow& row : answer.rows)
        session.out += "Job " + std::to_string(row.record->jobNumber) + ": " + row.call.reason + "\n";
}

Result<void> run(Session& session, const Options& options) {
    return withShop(options.shop, [&](storage::Shop& shop) -> Result<void> {
        const auto records = readShopRecords(shop, options.shop);
        if (!records)
            return core::failureOf(records);
        // Text is the shop's own list; what another program reads leaves people out unless they are asked
        // for.
        const bool text = session.format == Format::Text;
        const auto answer = answerOf(shop, options, *records, text || options.people);
        if (!answer)
            return core::failureOf(answer);
        if (text) {
            writeText(session, *answer);
            return {};
        }
        if (session.format == Format::Json)
            writeJson(session, *answer);
        else
            appendSheets(session, {csvSheet(*answer)});
        return options.people ? shop.exchange().noteExport("calls", answer->rows.size(), false)
                              : Result<void>();
    });
}

} // namespace

Action setUpCalls(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addShopInput(command, options->shop);
    command.add_option("--most", options->most, "how many calls to list")
        ->type_name("NUMBER")
        ->capture_default_str();
    command
        .add_option("--horizon", options->horizon,
                    "where the limits are to be sharpened, in the shop's unit (default: 40,000 miles)")
        ->type_name("DISTANCE");
    addLevelOption(command, options->level);
    command.add_flag("--people", options->people,
                     "json and csv: add names and telephones; the change log notes that they left");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
