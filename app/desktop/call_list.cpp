// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/call_list.h"

#include "app/desktop/last_odometer.h"
#include "storage/recent_calls.h"
#include "storage/shop.h"
#include "ui/counter/vehicle_words.h"
#include "ui/widgets/text.h"

#include <QCoreApplication>

#include <nlohmann/json.hpp>

#include <algorithm>

namespace milehold::app {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(CallList)
};

/// Empty for somebody who is not to be called.
core::Result<std::optional<ui::CallToMake>> readCall(storage::Shop& shop, const core::Shelf& shelf,
                                                     const core::DueCall& due, core::Date today,
                                                     std::optional<core::CustomerId>& person) {
    const core::RankedCall& ranked = due.call;
    ui::CallToMake call;
    call.call = ranked;
    call.due = due.due;
    const auto history = shop.vehicles().history(ranked.vehicle);
    if (!history)
        return core::failureOf(history);
    const core::Vehicle& vehicle = history->vehicle;
    ui::VehicleFound named;
    named.maker = vehicle.maker;
    named.model = vehicle.model;
    named.modelYear = vehicle.modelYear;
    named.plate = vehicle.plate;
    named.vin = vehicle.vin;
    call.vehicle = ui::toUtf8(ui::vehicleTitle(named));
    call.plate = vehicle.plate;
    if (vehicle.customer) {
        const auto customer = shop.customers().find(*vehicle.customer);
        if (!customer)
            return core::failureOf(customer);
        person = customer->id;
        if (customer->doNotCall) // said since the calls were ranked
            return std::optional<ui::CallToMake>();
        call.customer = customer->name;
        call.phones = customer->phones;
        call.bestTime = customer->bestTime;
        call.customerNote = customer->note;
    }
    const auto job = std::find_if(history->jobs.begin(), history->jobs.end(),
                                  [&](const core::Job& candidate) { return candidate.id == ranked.job; });
    if (job != history->jobs.end()) {
        call.jobNumber = job->number;
        call.concern = job->concernGroup;
    }
    const auto lives = shop.lives().recordsOf(ranked.vehicle, today);
    if (!lives)
        return core::failureOf(lives);
    for (const core::LifeRecord& record : *lives) {
        if (record.life.job != ranked.job)
            continue;
        call.repairedOn = record.life.repairedOn;
        call.lastKnownOn = record.life.lastKnownOn;
        call.known = record.life.known;
        if (const auto last = lastOdometer(*history, today))
            call.odometerNow = odometerOn(*last, record.life.yearly.perYear, today);
        const core::RepairPath* path = record.life.path ? shelf.find(*record.life.path) : nullptr;
        if (path)
            call.path = path->name;
    }
    return std::optional(std::move(call));
}

} // namespace

core::Result<std::vector<ui::CallToMake>> readCalls(storage::Shop& shop, const core::Shelf& shelf,
                                                    const std::vector<core::DueCall>& ranked,
                                                    std::size_t most, core::Date today) {
    const auto drafts = shop.drafts().list();
    if (!drafts)
        return core::failureOf(drafts);
    std::vector<ui::CallToMake> calls;
    std::vector<std::optional<core::CustomerId>> people;
    for (std::size_t i = 0; i < ranked.size() && i < most; ++i) {
        auto call = readCall(shop, shelf, ranked[i], today, people.emplace_back());
        if (!call)
            return core::failureOf(call);
        if (!*call) {
            people.pop_back();
            continue;
        }
        for (const storage::Draft& draft : *drafts)
            if (draft.form == callDraftKey(ranked[i].call.job))
                (*call)->typed = callDraftFromText(draft.text).value_or(ui::CallTyped{});
        calls.push_back(std::move(**call));
    }
    for (std::size_t i = 0; i < calls.size(); ++i)
        for (std::size_t k = 0; k < calls.size(); ++k)
            if (k != i && people[i] && people[i] == people[k])
                calls[i].also.push_back(ui::toUtf8(
                    Words::tr("%1, job %2").arg(ui::toText(calls[k].vehicle)).arg(calls[k].jobNumber)));
    return calls;
}

std::string callDraftKey(core::JobId job) {
    return "call/" + core::toString(job.uuid);
}

std::string callDraftText(const ui::CallTyped& typed) {
    nlohmann::json text;
    if (typed.odometer)
        text["odometer"] = typed.odometer->metres();
    if (typed.noiseSince)
        text["noiseSince"] = typed.noiseSince->metres();
    text["note"] = typed.note;
    if (typed.callOn)
        text["callOn"] = core::toIso(*typed.callOn);
    return text.dump();
}

std::optional<ui::CallTyped> callDraftFromText(const std::string& text) {
    const auto json = nlohmann::json::parse(text, nullptr, false);
    if (!json.is_object())
        return std::nullopt;
    ui::CallTyped typed;
    const auto distance = [&json](const char* name) -> std::optional<core::Distance> {
        const auto found = json.find(name);
        if (found == json.end() || !found->is_number_integer())
            return std::nullopt;
        return core::Distance::fromMetres(found->get<std::int64_t>());
    };
    typed.odometer = distance("odometer");
    typed.noiseSince = distance("noiseSince");
    if (const auto found = json.find("note"); found != json.end() && found->is_string())
        typed.note = found->get<std::string>();
    if (const auto found = json.find("callOn"); found != json.end() && found->is_string())
        typed.callOn = core::dateFromIso(found->get<std::string>());
    return typed;
}

core::Result<core::FollowUp> voidOrCount(storage::Shop& shop, core::FollowUpId call, std::int64_t revision,
                                         const std::string& reason) {
    if (!reason.empty())
        return shop.followUps().voidCall(call, revision, reason);
    auto stored = shop.followUps().find(call);
    if (!stored)
        return stored;
    if (stored->revision != revision)
        return core::fail(core::ErrorCode::Conflict, "the answer was changed since");
    stored->voidReason.clear();
    return shop.followUps().save(std::move(*stored));
}

core::Result<std::vector<ui::LoggedAnswer>>
readAnswers(storage::Shop& shop, const std::vector<core::Staff>& staff, std::size_t most) {
    auto calls = storage::recentCalls(shop, most);
    if (!calls)
        return core::failureOf(calls);
    std::vector<ui::LoggedAnswer> answers;
    for (core::FollowUp& told : *calls) {
        ui::LoggedAnswer& answer = answers.emplace_back();
        storage::JobFilter filter;
        filter.ids = {told.job};
        const auto rows = shop.jobs().rows(filter);
        if (!rows)
            return core::failureOf(rows);
        if (!rows->empty()) {
            const storage::JobRow& job = rows->front();
            answer.jobNumber = job.number;
            answer.customer = job.customerName;
            ui::VehicleFound named;
            named.maker = job.maker;
            named.model = job.model;
            named.modelYear = job.modelYear;
            answer.vehicle = ui::toUtf8(ui::vehicleTitle(named));
        }
        for (const core::Staff& person : staff)
            if (told.by == person.id)
                answer.by = person.name;
        answer.told = std::move(told);
    }
    return answers;
}

core::FollowUp followUpOf(const ui::CallAnswer& answer, core::Date today, std::optional<core::StaffId> by) {
    core::FollowUp followUp;
    followUp.job = answer.job;
    followUp.date = today;
    followUp.outcome = answer.outcome;
    followUp.odometer = answer.odometer;
    followUp.odometerEstimated = answer.odometerEstimated;
    followUp.noiseSince = answer.noiseSince;
    followUp.by = by;
    followUp.note = answer.note;
    followUp.callOn = answer.callOn;
    return followUp;
}

} // namespace milehold::app
