// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/records/reverse_change.h"

#include "core/shop/names.h"
#include "storage/customer_store.h"
#include "storage/follow_up_store.h"
#include "storage/job_store.h"
#include "storage/records/repository.h"
#include "storage/records/stored.h"
#include "storage/shelf_store.h"
#include "storage/shop_open.h"
#include "storage/staff_store.h"
#include "storage/vehicle_store.h"

#include <algorithm>
#include <map>

namespace milehold::storage {

using core::ErrorCode;

namespace {

using Text = std::optional<std::string>;
using Fields = std::map<std::string, Text, std::less<>>;

/// A value as the change log shows it.
Text shown(const Value& value) {
    if (const auto* number = std::get_if<std::int64_t>(&value))
        return std::to_string(*number);
    if (const auto* text = std::get_if<std::string>(&value))
        return *text;
    return std::nullopt;
}

template <class T> Fields fieldsOf(const T& record) {
    Fields fields;
    for (const auto& column : recordTable<T>().columns)
        if (column.set != nullptr)
            fields[std::string(column.name)] = shown(column.get(record));
    for (const auto& list : recordTable<T>().lists)
        if (list.add != nullptr)
            fields[std::string(list.field)] = shown(listText(list.get(record), list.readColumns));
    return fields;
}

template <class T> bool setColumn(T& record, const Column<T>& column, const Text& text) {
    if (!text)
        return column.set(record, Value()) || column.set(record, textValue({}));
    if (column.set(record, textValue(*text)))
        return true;
    try {
        return column.set(record, intValue(std::stoll(*text)));
    } catch (const std::exception&) {
        return false;
    }
}

/// The record with all of these fields, and the others at their defaults; empty when a field cannot take its
/// value.
template <class T> std::optional<T> recordWith(const Fields& fields) {
    T record;
    for (const auto& column : recordTable<T>().columns) {
        if (column.set == nullptr)
            continue;
        const auto found = fields.find(column.name);
        if (found != fields.end() && !setColumn(record, column, found->second))
            return std::nullopt;
    }
    for (const auto& list : recordTable<T>().lists) {
        const auto found = list.add == nullptr ? fields.end() : fields.find(list.field);
        if (found == fields.end() || !found->second)
            continue;
        const auto rows = listFromText(*found->second, list.readColumns);
        if (!rows || !std::ranges::all_of(*rows, [&](const auto& row) { return list.add(record, row); }))
            return std::nullopt;
    }
    return record;
}

bool isBlank(const Text& text) {
    return !text || text->empty();
}

/// Whether the record holds what the change left in it.
template <class T> bool holds(const T& record, const Change& change) {
    Fields now = fieldsOf(record);
    for (const auto& field : change.fields) {
        const auto found = now.find(field.field);
        if (found == now.end())
            continue; // a mark
        if (found->second != field.after && !(isBlank(found->second) && isBlank(field.after)))
            return false;
        now.erase(found);
    }
    // A new record was written down whole: what is not named was blank, or is a field that came later and was
    // left alone.
    const Fields fresh = fieldsOf(T{});
    return change.action != ChangeAction::Insert || std::ranges::all_of(now, [&](const auto& left) {
               return isBlank(left.second) || left.second == fresh.at(left.first);
           });
}

/// Whether an update is undone already: by the reversal of another change of the same save.
template <class T> bool isAsBefore(const T& record, const Change& change) {
    const Fields now = fieldsOf(record);
    return change.action == ChangeAction::Update &&
           std::ranges::all_of(change.fields, [&](const auto& field) {
               const auto found = now.find(field.field);
               return found == now.end() || found->second == field.before;
           });
}

template <class Saved> core::Result<void> toVoid(const core::Result<Saved>& saved) {
    if (!saved)
        return core::failureOf(saved);
    return {};
}

core::Result<void> save(Session& session, const core::Job& job) {
    return toVoid(JobStore(session).save({job, std::nullopt, std::nullopt}));
}
core::Result<void> save(Session& session, const core::Customer& customer) {
    return toVoid(CustomerStore(session).save(customer));
}
core::Result<void> save(Session& session, const core::Vehicle& vehicle) {
    return toVoid(VehicleStore(session).save(vehicle));
}
core::Result<void> save(Session& session, const core::FollowUp& followUp) {
    return toVoid(FollowUpStore(session).save(followUp));
}
core::Result<void> save(Session& session, const core::Staff& staff) {
    return toVoid(StaffStore(session).save(staff));
}
core::Result<void> save(Session& session, const StoredOdometer& stored) {
    core::OdometerReading reading = stored.reading();
    return toVoid(VehicleStore(session).saveOdometer(reading));
}
core::Result<void> save(Session& session, const StoredSettings& stored) {
    core::ShopSettings settings = stored.settings;
    settings.revision = stored.revision;
    return toVoid(writeSettings(session, settings));
}
template <class ShelfItem> core::Result<void> save(Session& session, const ShelfItem& item) {
    return toVoid(ShelfStore(session).save(item));
}

core::Result<void> remove(Session& session, const core::Customer& customer) {
    return CustomerStore(session).remove(customer.id, customer.revision);
}
core::Result<void> remove(Session& session, const core::Vehicle& vehicle) {
    return VehicleStore(session).remove(vehicle.id, vehicle.revision);
}
core::Result<void> remove(Session& session, const core::Staff& staff) {
    return StaffStore(session).remove(staff.id, staff.revision);
}
core::Result<void> remove(Session& session, const StoredOdometer& stored) {
    return VehicleStore(session).removeOdometer(stored.id, stored.revision);
}
core::Result<void> remove(Session&, const StoredSettings&) {
    return core::fail(ErrorCode::Unsupported, "the shop's own row is never removed");
}
template <class ShelfItem> core::Result<void> remove(Session& session, const ShelfItem& item) {
    return ShelfStore(session).remove(item.id, item.revision);
}

core::Result<void> takeBackNew(Session& session, const core::Job& job, const std::string& voidReason) {
    return toVoid(JobStore(session).voidJob(job.id, job.revision, voidReason));
}
core::Result<void> takeBackNew(Session& session, const core::FollowUp& call, const std::string& voidReason) {
    return toVoid(FollowUpStore(session).voidCall(call.id, call.revision, voidReason));
}
template <class T> core::Result<void> takeBackNew(Session& session, const T& record, const std::string&) {
    return remove(session, record);
}

/// Readings that a job or a call brought follow it.
template <class T> bool followsAnother(const T&) {
    return false;
}
template <> bool followsAnother(const StoredOdometer& reading) {
    return reading.source != core::OdometerSource::Typed;
}

template <class T> core::Result<Reversal> putBack(Session& session, const Change& change) {
    Fields fields;
    for (const auto& field : change.fields)
        fields[field.field] = field.before;
    auto record = recordWith<T>(fields);
    if (!record)
        return core::fail(ErrorCode::Unreadable,
                          "the change log holds a value that this program does not know");
    if (followsAnother(*record))
        return Reversal::Done;
    record->id.uuid = change.row;
    record->revision = 0;
    if (auto saved = save(session, *record); !saved)
        return core::failureOf(saved);
    return Reversal::Done;
}

template <class T>
core::Result<Reversal> reverseOf(Session& session, const Change& change, const std::string& voidReason) {
    auto stored = findRecord<T>(session, change.row);
    if (!stored && stored.error().code != ErrorCode::NotFound)
        return core::failureOf(stored);
    if (change.action == ChangeAction::Delete)
        return stored ? core::Result<Reversal>(Reversal::ChangedSince) : putBack<T>(session, change);
    if (stored && followsAnother(*stored))
        return Reversal::Done;
    const bool isReading = recordTable<T>().name == recordTable<StoredOdometer>().name;
    if (!stored)
        return isReading ? Reversal::Done : Reversal::ChangedSince;
    if (isAsBefore(*stored, change))
        return Reversal::Done;
    if (!holds(*stored, change))
        return Reversal::ChangedSince;
    if (change.action == ChangeAction::Insert) {
        if (auto gone = takeBackNew(session, *stored, voidReason); !gone)
            return core::failureOf(gone);
        return Reversal::Done;
    }
    Fields fields = fieldsOf(*stored);
    for (const auto& field : change.fields)
        if (const auto found = fields.find(field.field); found != fields.end())
            found->second = field.before;
    auto record = recordWith<T>(fields);
    if (!record)
        return core::fail(ErrorCode::Unreadable,
                          "the change log holds a value that this program does not know");
    record->id = stored->id;
    record->revision = stored->revision;
    if (auto saved = save(session, *record); !saved)
        return core::failureOf(saved);
    return Reversal::Done;
}

using Way = core::Result<Reversal> (*)(Session&, const Change&, const std::string&);

template <class T> std::pair<std::string_view, Way> way() {
    return {recordTable<T>().name, &reverseOf<T>};
}

const std::map<std::string_view, Way>& ways() {
    static const std::map<std::string_view, Way> kWays = {
        way<core::Job>(),        way<core::Customer>(),   way<core::Vehicle>(),     way<core::FollowUp>(),
        way<core::Staff>(),      way<StoredOdometer>(),   way<StoredSettings>(),    way<core::EngineFamily>(),
        way<core::RepairPath>(), way<core::PartNumber>(), way<core::Calibration>(), way<core::ShelfNote>()};
    return kWays;
}

template <class T, class Name>
core::Result<std::string> named(Session& session, const core::Uuid& row, const Name& name) {
    const auto found = findRecord<T>(session, row);
    if (!found && found.error().code == ErrorCode::NotFound)
        return std::string();
    if (!found)
        return core::failureOf(found);
    return name(*found);
}

} // namespace

bool canReverse(std::string_view table) {
    return ways().contains(table);
}

core::Result<Reversal> reverseChange(Session& session, const Change& change, const std::string& voidReason) {
    const auto found = ways().find(change.table);
    if (found == ways().end())
        return core::fail(ErrorCode::Unsupported, "this change has no way back");
    if (std::ranges::any_of(change.fields, &FieldChange::withheld))
        return Reversal::Forgotten;
    return found->second(session, change, voidReason);
}

core::Result<std::string> labelOfRecord(Session& session, std::string_view table, const core::Uuid& row) {
    if (table == "job")
        return named<core::Job>(session, row, [](const auto& job) { return std::to_string(job.number); });
    if (table == "follow_up") {
        const auto call = findRecord<core::FollowUp>(session, row);
        return call ? labelOfRecord(session, "job", call->job.uuid)
                    : core::Result<std::string>(std::string());
    }
    if (table == "part_number")
        return named<core::PartNumber>(session, row, [](const auto& part) { return core::partLabel(part); });
    if (table == "calibration")
        return named<core::Calibration>(session, row, [](const auto& one) { return one.code; });
    if (table == "repair_path")
        return named<core::RepairPath>(session, row, [](const auto& path) { return path.name; });
    if (table == "engine_family")
        return named<core::EngineFamily>(session, row, [](const auto& family) { return family.name; });
    if (table == "staff")
        return named<core::Staff>(session, row, [](const auto& person) { return person.name; });
    if (table == "customer")
        return named<core::Customer>(session, row, [](const auto& person) { return person.name; });
    if (table == "vehicle")
        return named<core::Vehicle>(session, row, [](const auto& vehicle) {
            return vehicle.plate.empty() ? core::vehicleName(vehicle.modelYear, vehicle.maker, vehicle.model)
                                         : vehicle.plate;
        });
    return std::string();
}

} // namespace milehold::storage
