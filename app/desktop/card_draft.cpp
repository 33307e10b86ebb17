// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/card_draft.h"

#include "core/shop/labels.h"

#include <nlohmann/json.hpp>

#include <type_traits>
#include <vector>

namespace milehold::app {
namespace {

using Json = nlohmann::json;

/// What is not of the expected form; caught in cardDraftFromText().
struct NotADraft {};

Json write(const std::string& value) {
    return value;
}
Json write(bool value) {
    return value;
}
Json write(int value) {
    return value;
}
Json write(std::int64_t value) {
    return value;
}
Json write(core::Distance value) {
    return value.metres();
}
Json write(core::Money value) {
    return value.minor;
}
Json write(core::Hours value) {
    return value.hundredths;
}
Json write(core::Date value) {
    return value.ok() ? Json(core::toIso(value)) : Json(nullptr);
}
Json write(core::Position value) {
    return core::toCode(value);
}
template <class Tag> Json write(core::Id<Tag> value) {
    return value.isNull() ? Json(nullptr) : Json(core::toString(value.uuid));
}
template <class E>
requires std::is_enum_v<E> Json write(E value) {
    return std::string(core::toCode(value));
}

void read(const Json& json, std::string& value) {
    value = json.get<std::string>();
}
void read(const Json& json, bool& value) {
    value = json.get<bool>();
}
void read(const Json& json, int& value) {
    value = json.get<int>();
}
void read(const Json& json, std::int64_t& value) {
    value = json.get<std::int64_t>();
}
void read(const Json& json, core::Distance& value) {
    value = core::Distance::fromMetres(json.get<std::int64_t>());
}
void read(const Json& json, core::Money& value) {
    value.minor = json.get<std::int64_t>();
}
void read(const Json& json, core::Hours& value) {
    value.hundredths = json.get<std::int32_t>();
}
void read(const Json& json, core::Date& value) {
    if (json.is_null())
        return;
    const auto date = core::dateFromIso(json.get<std::string>());
    if (!date)
        throw NotADraft{};
    value = *date;
}
void read(const Json& json, core::Position& value) {
    const auto position = core::positionFromCode(json.get<std::string>());
    if (!position)
        throw NotADraft{};
    value = *position;
}
template <class Tag> void read(const Json& json, core::Id<Tag>& value) {
    if (json.is_null())
        return;
    const auto uuid = core::uuidFromString(json.get<std::string>());
    if (!uuid)
        throw NotADraft{};
    value.uuid = *uuid;
}
template <class E>
requires std::is_enum_v<E>
void read(const Json& json, E& value) {
    const auto found = core::fromCode<E>(json.get<std::string>());
    if (!found)
        throw NotADraft{};
    value = *found;
}

template <class T> Json write(const std::optional<T>& value);
template <class T> Json write(const std::vector<T>& values);
template <class T> void read(const Json& json, std::optional<T>& value);
template <class T> void read(const Json& json, std::vector<T>& values);

/// One list of members a record, walked by a writer or a reader.
template <class Walker, class Record> void walkColdStart(Walker&& at, Record& start) {
    at("soakHours", start.soakHours);
    at("rattleTenths", start.rattleTenths);
}
template <class Walker, class Record> void walkComebackCosts(Walker&& at, Record& costs) {
    at("labour", costs.labour);
    at("parts", costs.parts);
    at("rental", costs.rental);
    at("towing", costs.towing);
    at("goodwill", costs.goodwill);
    at("credit", costs.credit);
}
template <class Walker, class Record> void walkPart(Walker&& at, Record& part) {
    at("part", part.part);
    at("position", part.position);
    at("lot", part.lot);
    at("quantity", part.quantity);
    at("cost", part.cost);
}
template <class Walker, class Record> void walkCode(Walker&& at, Record& code) {
    at("code", code.code);
    at("after", code.after);
}
template <class Walker, class Record> void walkJob(Walker&& at, Record& job) {
    at("id", job.id);
    at("number", job.number);
    at("repairOrder", job.repairOrder);
    at("kind", job.kind);
    at("vehicle", job.vehicle);
    at("path", job.path);
    at("writtenUp", job.writtenUp);
    at("started", job.started);
    at("delivered", job.delivered);
    at("odometerIn", job.odometerIn);
    at("odometerOut", job.odometerOut);
    at("firstSeen", job.firstSeen);
    at("technician", job.technician);
    at("advisor", job.advisor);
    at("concernGroup", job.concernGroup);
    at("concern", job.concern);
    at("cause", job.cause);
    at("correction", job.correction);
    at("before", job.before);
    at("after", job.after);
    at("deliveryCheck", job.deliveryCheck);
    at("oilLevel", job.oilLevel);
    at("oilCondition", job.oilCondition);
    at("oilGrade", job.oilGrade);
    at("oilPressureKpa", job.oilPressureKpa);
    at("calibrationBefore", job.calibrationBefore);
    at("calibrationAfter", job.calibrationAfter);
    at("lines", job.lines);
    at("parts", job.parts);
    at("codes", job.codes);
    at("hours", job.hours);
    at("partsPrice", job.partsPrice);
    at("labourPrice", job.labourPrice);
    at("sublet", job.sublet);
    at("tax", job.tax);
    at("discount", job.discount);
    at("warrantyMonths", job.warrantyMonths);
    at("warrantyDistance", job.warrantyDistance);
    at("comebackOf", job.comebackOf);
    at("comebackDecision", job.comebackDecision);
    at("decidedBy", job.decidedBy);
    at("comebackCause", job.comebackCause);
    at("payer", job.payer);
    at("comebackCost", job.comebackCost);
    at("claimNumber", job.claimNumber);
    at("claimDeadline", job.claimDeadline);
    at("comebackCosts", job.comebackCosts);
    at("claimState", job.claimState);
    at("claimAmount", job.claimAmount);
    at("voidReason", job.voidReason);
    at("revision", job.revision);
}
template <class Walker, class Record> void walkVehicle(Walker&& at, Record& vehicle) {
    at("id", vehicle.id);
    at("vin", vehicle.vin);
    at("plate", vehicle.plate);
    at("maker", vehicle.maker);
    at("model", vehicle.model);
    at("modelYear", vehicle.modelYear);
    at("family", vehicle.family);
    at("customer", vehicle.customer);
    at("note", vehicle.note);
    at("revision", vehicle.revision);
}
template <class Walker, class Record> void walkCustomer(Walker&& at, Record& customer) {
    at("id", customer.id);
    at("name", customer.name);
    at("phones", customer.phones);
    at("emails", customer.emails);
    at("bestTime", customer.bestTime);
    at("doNotCall", customer.doNotCall);
    at("note", customer.note);
    at("revision", customer.revision);
}
template <class Walker, class Record> void walkCard(Walker&& at, Record& card) {
    at("job", card.job);
    at("vehicle", card.vehicle);
    at("customer", card.customer);
}

template <class W, class R> void walk(W&& at, R& record) {
    using Record = std::remove_const_t<R>;
    if constexpr (std::is_same_v<Record, core::ColdStart>)
        walkColdStart(at, record);
    else if constexpr (std::is_same_v<Record, core::ComebackCosts>)
        walkComebackCosts(at, record);
    else if constexpr (std::is_same_v<Record, core::JobPart>)
        walkPart(at, record);
    else if constexpr (std::is_same_v<Record, core::JobCode>)
        walkCode(at, record);
    else if constexpr (std::is_same_v<Record, core::Job>)
        walkJob(at, record);
    else if constexpr (std::is_same_v<Record, core::Vehicle>)
        walkVehicle(at, record);
    else if constexpr (std::is_same_v<Record, core::Customer>)
        walkCustomer(at, record);
    else
        walkCard(at, record);
}

template <class T>
concept Record = std::is_same_v<T, core::ColdStart> || std::is_same_v<T, core::ComebackCosts> ||
    std::is_same_v<T, core::JobPart> || std::is_same_v<T, core::JobCode> || std::is_same_v<T, core::Job> ||
    std::is_same_v<T, core::Vehicle> || std::is_same_v<T, core::Customer> || std::is_same_v<T, ui::JobCard>;

template <Record T> Json write(const T& record) {
    Json json = Json::object();
    walk([&json](const char* name, const auto& member) { json[name] = write(member); }, record);
    return json;
}
template <Record T> void read(const Json& json, T& record) {
    if (!json.is_object())
        throw NotADraft{};
    walk(
        [&json](const char* name, auto& member) {
            if (const auto found = json.find(name); found != json.end())
                read(*found, member);
        },
        record);
}
template <class T> Json write(const std::optional<T>& value) {
    return value ? write(*value) : Json(nullptr);
}
template <class T> Json write(const std::vector<T>& values) {
    Json json = Json::array();
    for (const auto& value : values)
        json.push_back(write(value));
    return json;
}
template <class T> void read(const Json& json, std::optional<T>& value) {
    if (json.is_null()) {
        value.reset();
        return;
    }
    value.emplace();
    read(json, *value);
}
template <class T> void read(const Json& json, std::vector<T>& values) {
    if (!json.is_array())
        throw NotADraft{};
    values.clear();
    for (const auto& item : json)
        read(item, values.emplace_back());
}

} // namespace

std::string toText(const CardDraft& draft) {
    const Json json = {{"draft", 1},
                       {"stored", write(draft.stored)},
                       {"card", write(draft.card)},
                       {"unfinished", draft.unfinished}};
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

core::Result<CardDraft> cardDraftFromText(std::string_view text) {
    try {
        const Json json = Json::parse(text);
        CardDraft draft;
        read(json.at("stored"), draft.stored);
        read(json.at("card"), draft.card);
        draft.unfinished = json.at("unfinished").get<std::map<std::string, std::string>>();
        return draft;
    } catch (const Json::exception& problem) {
        return core::fail(core::ErrorCode::Unreadable,
                          std::string("not a draft of a job: ") + problem.what());
    } catch (const NotADraft&) {
        return core::fail(core::ErrorCode::Unreadable, "not a draft of a job: a value of the wrong form");
    }
}

} // namespace milehold::app
