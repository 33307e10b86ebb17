// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "core/shop/finding.h"
#include "core/shop/job.h"
#include "core/shop/people.h"
#include "core/shop/vehicle.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace milehold::storage {

class Session;

/// What a finished-job form saves as one: the job, and the vehicle and customer where they were edited or are
/// new. New ones carry ids made by the caller (make_id.h), so that the job can name its vehicle.
struct JobBundle {
    core::Job job;
    std::optional<core::Vehicle> vehicle;
    std::optional<core::Customer> customer;
    friend bool operator==(const JobBundle&, const JobBundle&) = default;
};

enum class JobScope : std::uint8_t { All, InWork, Delivered, Void };

/// Which jobs a list shows; every condition that is set must hold.
struct JobFilter {
    std::string text = {}; ///< as VehicleStore::search reads it; blank: any
    JobScope scope = JobScope::All;
    std::optional<core::RepairPathId> path = {};
    std::optional<core::StaffId> technician = {};
    std::optional<core::VehicleId> vehicle = {};
    std::vector<core::JobId> ids = {}; ///< empty: any
    std::size_t limit = 500;
};

/// A job as one row of a list.
struct JobRow {
    core::JobId id;
    std::int64_t number = 0;
    std::string repairOrder;
    core::JobKind kind = core::JobKind::Repair;
    core::ConcernGroup concernGroup = core::ConcernGroup::None;
    core::VehicleId vehicle;
    std::string vin;
    std::string plate;
    std::string maker;
    std::string model;
    std::optional<int> modelYear;
    std::optional<core::EngineFamilyId> family;
    std::optional<core::CustomerId> customer;
    std::string customerName;
    std::optional<core::RepairPathId> path = {};
    std::string pathName;
    std::optional<core::StaffId> technician = {};
    std::string technicianName;
    core::Date writtenUp;
    std::optional<core::Date> delivered;
    std::optional<core::Distance> odometerIn;
    std::optional<core::Distance> odometerOut;
    core::DeliveryCheck deliveryCheck = core::DeliveryCheck::NotDone;
    std::optional<core::JobId> comebackOf;
    core::ComebackDecision comebackDecision = core::ComebackDecision::None;
    core::Money total;
    bool voided = false;
    std::int64_t revision = 0;
    friend bool operator==(const JobRow&, const JobRow&) = default;
};

class JobStore {
public:
    explicit JobStore(Session& session) : session_(session) {}

    core::Result<core::Job> find(core::JobId id) const;
    core::Result<std::optional<core::Job>> findByNumber(std::int64_t number) const;
    /// Newest first by number.
    core::Result<std::vector<JobRow>> rows(const JobFilter& filter) const;

    /// What validation finds in the bundle against the stored shelf and history; what save() refuses as
    /// errors.
    core::Result<core::Findings> check(const JobBundle& bundle) const;

    /// Saves the bundle whole or not at all: customer, vehicle, job with lines, parts and codes, the odometer
    /// readings in and out, the number from the counter at the first save, and the change log; read back and
    /// compared before the commit. Returns all as stored with new revisions. Errors: InvalidInput (the detail
    /// names the fields), Conflict, DiskProblem, ReadOnly, OutcomeUnknown.
    core::Result<JobBundle> save(JobBundle bundle);

    /// Takes the job out of every figure and keeps it, with the reason (never blank).
    core::Result<core::Job> voidJob(core::JobId id, std::int64_t revision, std::string reason);
    /// Undoes voidJob(); the reason stays in the change log.
    core::Result<core::Job> unvoidJob(core::JobId id, std::int64_t revision);
    /// Only a job that was never delivered and that nothing refers to; everything else is voided.
    core::Result<void> remove(core::JobId id, std::int64_t revision);

private:
    Session& session_;
};

} // namespace milehold::storage
