// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/records/histories.h"

#include "storage/database/each_row.h"
#include "storage/database/statement.h"
#include "storage/records/codec.h"
#include "storage/records/numbered_texts.h"
#include "storage/records/owned_rows.h"
#include "storage/records/record_sql.h"

#include <algorithm>
#include <cstdint>
#include <string>
#include <string_view>
#include <tuple>
#include <unordered_map>
#include <utility>
#include <vector>

namespace milehold::storage {

namespace {

/// The select list of a table, and what makes it that of one vehicle.
struct Query {
    std::string_view table;
    std::string_view selectSql;
    std::string_view ofOneSql;
};
constexpr Query kVehicles{
    "vehicle",
    "SELECT v.id, v.maker, v.model, v.model_year, v.family_id, v.customer_id, coalesce(c.do_not_call, 0) "
    "FROM vehicle v LEFT JOIN customer c ON c.id = v.customer_id WHERE 1 = 1",
    " AND v.id = :only"};
constexpr Query kJobs{
    "job",
    "SELECT vehicle_id, id, number, repair_order, kind, path_id, written_up, delivered, odometer_in, "
    "odometer_out, first_seen, technician_id, concern_group, delivery_check, calibration_after, "
    "comeback_of, comeback_decision, void_reason, rattle_tenths_after FROM job WHERE 1 = 1",
    " AND vehicle_id = :only"};
constexpr std::string_view kOfItsJobs = " AND job_id IN (SELECT id FROM job WHERE vehicle_id = :only)";
constexpr Query kParts{"job_part", "SELECT job_id, place, part_id, position, lot FROM job_part WHERE 1 = 1",
                       kOfItsJobs};
constexpr Query kCalls{
    "follow_up",
    "SELECT job_id, id, date, outcome, odometer, odometer_estimated, noise_since FROM follow_up "
    "WHERE void_reason = ''", // a voided one counts nowhere
    kOfItsJobs};
constexpr Query kOdometers{
    "odometer", "SELECT vehicle_id, id, date, shown, reset_offset FROM odometer WHERE source = 'typed'",
    " AND vehicle_id = :only"};

struct VehicleEntry {
    core::VehicleId id;
    std::uint32_t maker = 0, model = 0;
    std::optional<int> modelYear;
    std::optional<core::EngineFamilyId> family;
    std::optional<core::CustomerId> customer;
    bool doNotCall = false;
};
struct JobEntry {
    core::JobId id;
    std::int64_t number = 0;
    std::string repairOrder;
    core::JobKind kind = core::JobKind::Repair;
    std::optional<core::RepairPathId> path;
    core::Date writtenUp;
    std::optional<core::Date> delivered;
    std::optional<core::Distance> odometerIn, odometerOut, firstSeen;
    std::optional<core::StaffId> technician;
    core::ConcernGroup concernGroup = core::ConcernGroup::None;
    core::DeliveryCheck deliveryCheck = core::DeliveryCheck::NotDone;
    std::uint32_t calibrationAfter = 0;
    std::optional<core::JobId> comebackOf;
    core::ComebackDecision comebackDecision = core::ComebackDecision::None;
    std::uint32_t voidReason = 0;
    std::optional<int> rattleTenthsAfter;
};
struct PartEntry {
    std::int32_t place = 0;
    std::uint32_t part = 0;
    std::uint32_t lot = 0;
    std::optional<core::Position> position;
};
struct CallEntry {
    core::FollowUpId id;
    std::uint32_t job = 0;
    core::Date date;
    core::FollowUpOutcome outcome = core::FollowUpOutcome::Quiet;
    bool odometerEstimated = false;
    std::optional<core::Distance> odometer, noiseSince;
};

/// Reads the columns of a row from `first` on into fields; false when one cannot take its value.
template <class... Fields> bool readRow(const Statement& row, int first, Fields&... fields) {
    return (decode(row.value(first++), fields) && ...);
}

/// Hands every row to `take`, which is false for a value that it does not know.
template <class Take>
core::Result<void> eachRowOf(Session& session, const Query& query, const std::optional<core::VehicleId>& only,
                             Take take) {
    std::string sql(query.selectSql);
    if (only)
        sql += query.ofOneSql;
    Statement rows(session, sql, "read the vehicles' histories");
    if (only)
        rows.bindId(":only", only->uuid);
    return eachRow(rows, [&]() -> core::Result<void> {
        if (!take(rows))
            return unknownValue(query.table, "in a history");
        return {};
    });
}

} // namespace

struct Histories::Tables {
    std::vector<VehicleEntry> vehicles; ///< by key
    std::vector<JobEntry> jobs;
    std::vector<PartEntry> parts;
    std::vector<CallEntry> calls;
    std::vector<core::OdometerReading> odometers;
    std::vector<core::PartNumberId> partNumbers;
    NumberedTexts texts;
    OwnedRows jobsOfVehicle, callsOfVehicle, odometersOfVehicle, partsOfJob;

    core::Result<void> read(Session& session, const std::optional<core::VehicleId>& only);

private:
    core::Result<void> readVehicles(Session& session, const std::optional<core::VehicleId>& only);
    core::Result<void> readJobs(Session& session, const std::optional<core::VehicleId>& only);
    core::Result<void> readParts(Session& session, const std::optional<core::VehicleId>& only);
    core::Result<void> readCalls(Session& session, const std::optional<core::VehicleId>& only);
    core::Result<void> readOdometers(Session& session, const std::optional<core::VehicleId>& only);

    OwnerPlaces<core::VehicleId> vehicleAt_;
    OwnerPlaces<core::JobId> jobAt_;
    std::vector<std::uint32_t> vehicleOfJob_;
};

core::Result<void> Histories::Tables::readVehicles(Session& session,
                                                   const std::optional<core::VehicleId>& only) {
    auto read = eachRowOf(session, kVehicles, only, [this](const Statement& row) {
        VehicleEntry vehicle;
        std::string maker;
        std::string model;
        if (!readRow(row, 0, vehicle.id, maker, model, vehicle.modelYear, vehicle.family, vehicle.customer,
                     vehicle.doNotCall))
            return false;
        vehicle.maker = texts.numberOf(std::move(maker));
        vehicle.model = texts.numberOf(std::move(model));
        vehicles.push_back(vehicle);
        return true;
    });
    std::ranges::sort(vehicles, {}, &VehicleEntry::id);
    vehicleAt_.reserve(vehicles.size());
    for (std::uint32_t i = 0; i < vehicles.size(); ++i)
        vehicleAt_.add(vehicles[i].id, i);
    return read;
}

core::Result<void> Histories::Tables::readJobs(Session& session, const std::optional<core::VehicleId>& only) {
    auto read = eachRowOf(session, kJobs, only, [this](const Statement& row) {
        core::VehicleId vehicle;
        JobEntry job;
        std::string calibration;
        std::string voided;
        if (!readRow(row, 0, vehicle, job.id, job.number, job.repairOrder, job.kind, job.path, job.writtenUp,
                     job.delivered, job.odometerIn, job.odometerOut, job.firstSeen, job.technician,
                     job.concernGroup, job.deliveryCheck, calibration, job.comebackOf, job.comebackDecision,
                     voided, job.rattleTenthsAfter))
            return false;
        // Another station may have saved a vehicle since the vehicles were read: it comes with the next
        // reading.
        const std::uint32_t at = vehicleAt_.of(vehicle);
        if (at == kNowhere)
            return true;
        job.calibrationAfter = texts.numberOf(std::move(calibration));
        job.voidReason = texts.numberOf(std::move(voided));
        jobs.push_back(std::move(job));
        vehicleOfJob_.push_back(at);
        return true;
    });
    jobAt_.reserve(jobs.size());
    for (std::uint32_t i = 0; i < jobs.size(); ++i)
        jobAt_.add(jobs[i].id, i);
    jobsOfVehicle.sort(vehicleOfJob_, vehicles.size());
    jobsOfVehicle.sortEach([this](std::uint32_t i) { return std::tuple(jobs[i].writtenUp, jobs[i].number); });
    return read;
}

core::Result<void> Histories::Tables::readParts(Session& session,
                                                const std::optional<core::VehicleId>& only) {
    std::unordered_map<core::PartNumberId, std::uint32_t> numbers;
    std::vector<std::uint32_t> jobOf;
    auto read = eachRowOf(session, kParts, only, [&](const Statement& row) {
        core::JobId job;
        core::PartNumberId number;
        PartEntry part;
        std::string lot;
        if (!readRow(row, 0, job, part.place, number, part.position, lot))
            return false;
        const std::uint32_t at = jobAt_.of(job);
        if (at == kNowhere)
            return true;
        const auto [known, isNew] = numbers.try_emplace(number, static_cast<std::uint32_t>(numbers.size()));
        if (isNew)
            partNumbers.push_back(number);
        part.part = known->second;
        part.lot = texts.numberOf(std::move(lot));
        parts.push_back(part);
        jobOf.push_back(at);
        return true;
    });
    partsOfJob.sort(jobOf, jobs.size());
    partsOfJob.sortEach([this](std::uint32_t i) { return parts[i].place; });
    return read;
}

core::Result<void> Histories::Tables::readCalls(Session& session,
                                                const std::optional<core::VehicleId>& only) {
    std::vector<std::uint32_t> vehicleOf;
    auto read = eachRowOf(session, kCalls, only, [&](const Statement& row) {
        core::JobId job;
        CallEntry call;
        if (!readRow(row, 0, job, call.id, call.date, call.outcome, call.odometer, call.odometerEstimated,
                     call.noiseSince))
            return false;
        call.job = jobAt_.of(job);
        if (call.job == kNowhere)
            return true;
        calls.push_back(call);
        vehicleOf.push_back(vehicleOfJob_[call.job]);
        return true;
    });
    callsOfVehicle.sort(vehicleOf, vehicles.size());
    return read;
}

core::Result<void> Histories::Tables::readOdometers(Session& session,
                                                    const std::optional<core::VehicleId>& only) {
    std::vector<std::uint32_t> vehicleOf;
    auto read = eachRowOf(session, kOdometers, only, [&](const Statement& row) {
        core::OdometerReading reading;
        if (!readRow(row, 0, reading.vehicle, reading.id, reading.date, reading.shown, reading.resetOffset))
            return false;
        const std::uint32_t at = vehicleAt_.of(reading.vehicle);
        if (at == kNowhere)
            return true;
        odometers.push_back(std::move(reading));
        vehicleOf.push_back(at);
        return true;
    });
    odometersOfVehicle.sort(vehicleOf, vehicles.size());
    odometersOfVehicle.sortEach([this](std::uint32_t i) { return odometers[i].date; });
    return read;
}

core::Result<void> Histories::Tables::read(Session& session, const std::optional<core::VehicleId>& only) {
    for (const auto step : {&Tables::readVehicles, &Tables::readJobs, &Tables::readParts, &Tables::readCalls,
                            &Tables::readOdometers}) {
        if (auto done = (this->*step)(session, only); !done)
            return done;
    }
    vehicleAt_ = {};
    jobAt_ = {};
    vehicleOfJob_ = {};
    return {};
}

Histories::Histories(std::unique_ptr<Tables> tables) : tables_(std::move(tables)) {}
Histories::Histories(Histories&&) noexcept = default;
Histories::~Histories() = default;

core::Result<Histories> Histories::read(Session& session, const std::optional<core::VehicleId>& only) {
    auto tables = std::make_unique<Tables>();
    if (auto done = tables->read(session, only); !done)
        return core::failureOf(done);
    return Histories(std::move(tables));
}

std::size_t Histories::size() const {
    return tables_->vehicles.size();
}

bool Histories::hasJobs(std::size_t vehicle) const {
    return !tables_->jobsOfVehicle.of(vehicle).empty();
}

void Histories::fill(std::size_t vehicle, core::VehicleHistory& history) const {
    const Tables& from = *tables_;
    const VehicleEntry& row = from.vehicles[vehicle];
    history.vehicle = {};
    history.vehicle.id = row.id;
    history.vehicle.maker = from.texts.text(row.maker);
    history.vehicle.model = from.texts.text(row.model);
    history.vehicle.modelYear = row.modelYear;
    history.vehicle.family = row.family;
    history.vehicle.customer = row.customer;
    history.doNotCall = row.doNotCall;
    history.jobs.clear();
    history.followUps.clear();
    history.odometers.clear();
    for (const std::uint32_t i : from.jobsOfVehicle.of(vehicle)) {
        const JobEntry& read = from.jobs[i];
        core::Job& job = history.jobs.emplace_back();
        job.vehicle = row.id;
        job.id = read.id;
        job.number = read.number;
        job.repairOrder = read.repairOrder;
        job.kind = read.kind;
        job.path = read.path;
        job.writtenUp = read.writtenUp;
        job.delivered = read.delivered;
        job.odometerIn = read.odometerIn;
        job.odometerOut = read.odometerOut;
        job.firstSeen = read.firstSeen;
        job.technician = read.technician;
        job.concernGroup = read.concernGroup;
        job.deliveryCheck = read.deliveryCheck;
        job.calibrationAfter = from.texts.text(read.calibrationAfter);
        job.comebackOf = read.comebackOf;
        job.comebackDecision = read.comebackDecision;
        job.voidReason = from.texts.text(read.voidReason);
        job.after.rattleTenths = read.rattleTenthsAfter;
        for (const std::uint32_t p : from.partsOfJob.of(i)) {
            core::JobPart& part = job.parts.emplace_back();
            part.part = from.partNumbers[from.parts[p].part];
            part.position = from.parts[p].position;
            part.lot = from.texts.text(from.parts[p].lot);
        }
    }
    for (const std::uint32_t i : from.callsOfVehicle.of(vehicle)) {
        const CallEntry& read = from.calls[i];
        core::FollowUp& call = history.followUps.emplace_back();
        call.id = read.id;
        call.job = from.jobs[read.job].id;
        call.date = read.date;
        call.outcome = read.outcome;
        call.odometer = read.odometer;
        call.odometerEstimated = read.odometerEstimated;
        call.noiseSince = read.noiseSince;
    }
    for (const std::uint32_t i : from.odometersOfVehicle.of(vehicle))
        history.odometers.push_back(from.odometers[i]);
}

} // namespace milehold::storage
