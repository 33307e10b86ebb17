// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/records/history_reader.h"

#include "storage/records/codec.h"
#include "storage/records/record_sql.h"

#include <algorithm>
#include <string>

namespace milehold::storage {

namespace {

std::string withOnly(std::string_view selectSql, std::string_view columnSql, std::string_view orderSql,
                     bool only) {
    std::string sql(selectSql);
    if (only)
        sql += " AND " + std::string(columnSql) + " = :only";
    return sql + " ORDER BY " + std::string(orderSql);
}

constexpr std::string_view kVehicles =
    "SELECT v.id, v.maker, v.model, v.model_year, v.family_id, v.customer_id, coalesce(c.do_not_call, 0) "
    "FROM vehicle v LEFT JOIN customer c ON c.id = v.customer_id WHERE 1 = 1";
constexpr std::string_view kJobs = "SELECT vehicle_id, id, number, repair_order, kind, path_id, written_up, "
                                   "delivered, odometer_in, odometer_out, "
                                   "first_seen, technician_id, concern_group, delivery_check, "
                                   "calibration_after, comeback_of, comeback_decision, "
                                   "void_reason, rattle_tenths_after FROM job WHERE 1 = 1";
constexpr std::string_view kParts = "SELECT j.vehicle_id, p.job_id, p.part_id, p.position, p.lot FROM job j "
                                    "JOIN job_part p ON p.job_id = j.id WHERE 1 = 1";
constexpr std::string_view kCalls =
    "SELECT j.vehicle_id, f.id, f.job_id, f.date, f.outcome, f.odometer, f.odometer_estimated, f.noise_since "
    "FROM job j JOIN follow_up f ON f.job_id = j.id WHERE f.void_reason = ''"; // a voided one counts nowhere
constexpr std::string_view kOdometers = "SELECT vehicle_id, id, date, shown, reset_offset FROM odometer "
                                        "WHERE source = 'typed'";

} // namespace

/// A query whose first column is the vehicle, one row ahead.
class HistoryCursor {
public:
    HistoryCursor(Session& session, std::string_view select, std::string_view vehicle, std::string_view order,
                  const std::optional<core::VehicleId>& only)
        : statement_(session, withOnly(select, vehicle, order, only.has_value()),
                     "read the vehicles' histories") {
        if (only)
            statement_.bindId(":only", only->uuid);
    }

    core::Result<void> start() {
        if (auto ran = statement_.run(); !ran)
            return ran;
        return step();
    }
    core::Result<void> step() {
        const auto more = statement_.next();
        if (!more)
            return core::failureOf(more);
        hasRow_ = *more;
        if (hasRow_)
            vehicle_.uuid = statement_.id(0);
        return {};
    }
    bool isAt(core::VehicleId vehicle) const { return hasRow_ && vehicle_ == vehicle; }
    bool hasRow() const { return hasRow_; }
    core::VehicleId vehicle() const { return vehicle_; }

    /// Reads the columns from `first` on into the fields; false when one cannot take its value.
    template <class... Fields> bool read(int first, Fields&... fields) const {
        return (decode(statement_.value(first++), fields) && ...);
    }

    /// Hands each row of one vehicle to `take`, which is false for a value that it does not know.
    template <class Take>
    core::Result<void> each(core::VehicleId vehicle, std::string_view table, Take take) {
        while (isAt(vehicle)) {
            if (!take(*this))
                return unknownValue(table, "in a history");
            if (auto stepped = step(); !stepped)
                return stepped;
        }
        return {};
    }

private:
    Statement statement_;
    bool hasRow_ = false;
    core::VehicleId vehicle_;
};

struct HistoryReader::Cursors {
    Cursors(Session& session, const std::optional<core::VehicleId>& only)
        : vehicles(session, kVehicles, "v.id", "v.id", only),
          jobs(session, kJobs, "vehicle_id", "vehicle_id, written_up, number", only),
          parts(session, kParts, "j.vehicle_id", "j.vehicle_id, j.written_up, j.number, p.place", only),
          calls(session, kCalls, "j.vehicle_id", "j.vehicle_id", only),
          odometers(session, kOdometers, "vehicle_id", "vehicle_id, date", only) {}

    HistoryCursor vehicles;
    HistoryCursor jobs;
    HistoryCursor parts;
    HistoryCursor calls;
    HistoryCursor odometers;
    bool started = false;

    core::Result<void> start() {
        for (HistoryCursor* cursor : {&vehicles, &jobs, &parts, &calls, &odometers}) {
            if (auto ran = cursor->start(); !ran)
                return ran;
        }
        started = true;
        return {};
    }

    core::Result<void> readRecords(core::VehicleHistory& history);
};

core::Result<void> HistoryReader::Cursors::readRecords(core::VehicleHistory& history) {
    const core::VehicleId id = history.vehicle.id;
    auto read = jobs.each(id, "job", [&](const HistoryCursor& row) {
        core::Job& job = history.jobs.emplace_back();
        job.vehicle = id;
        return row.read(1, job.id, job.number, job.repairOrder, job.kind, job.path, job.writtenUp,
                        job.delivered, job.odometerIn, job.odometerOut, job.firstSeen, job.technician,
                        job.concernGroup, job.deliveryCheck, job.calibrationAfter, job.comebackOf,
                        job.comebackDecision, job.voidReason, job.after.rattleTenths);
    });
    if (!read)
        return read;
    read = parts.each(id, "job_part", [&](const HistoryCursor& row) {
        core::JobId job;
        core::JobPart part;
        if (!row.read(1, job, part.part, part.position, part.lot))
            return false;
        const auto owner = std::ranges::find(history.jobs, job, &core::Job::id);
        if (owner == history.jobs.end())
            return false;
        owner->parts.push_back(std::move(part));
        return true;
    });
    if (!read)
        return read;
    read = calls.each(id, "follow_up", [&](const HistoryCursor& row) {
        core::FollowUp& call = history.followUps.emplace_back();
        return row.read(1, call.id, call.job, call.date, call.outcome, call.odometer, call.odometerEstimated,
                        call.noiseSince);
    });
    if (!read)
        return read;
    return odometers.each(id, "odometer", [&](const HistoryCursor& row) {
        core::OdometerReading& reading = history.odometers.emplace_back();
        reading.vehicle = id;
        return row.read(1, reading.id, reading.date, reading.shown, reading.resetOffset);
    });
}

HistoryReader::HistoryReader(Session& session, const std::optional<core::VehicleId>& only)
    : cursors_(std::make_unique<Cursors>(session, only)) {}

HistoryReader::~HistoryReader() = default;

core::Result<bool> HistoryReader::next(core::VehicleHistory& history) {
    if (!cursors_->started) {
        if (auto started = cursors_->start(); !started)
            return core::failureOf(started);
    }
    if (!cursors_->vehicles.hasRow())
        return false;
    history = {};
    core::Vehicle& vehicle = history.vehicle;
    vehicle.id = cursors_->vehicles.vehicle();
    if (!cursors_->vehicles.read(1, vehicle.maker, vehicle.model, vehicle.modelYear, vehicle.family,
                                 vehicle.customer, history.doNotCall)) {
        return unknownValue("vehicle", "in a history");
    }
    if (auto stepped = cursors_->vehicles.step(); !stepped)
        return core::failureOf(stepped);
    if (auto read = cursors_->readRecords(history); !read)
        return core::failureOf(read);
    return true;
}

} // namespace milehold::storage
