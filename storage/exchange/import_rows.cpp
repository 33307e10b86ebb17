// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/import_rows.h"

#include "core/shop/validation.h"
#include "core/shop/vin.h"
#include "storage/database/session.h"

#include <algorithm>

namespace milehold::storage {

using core::ErrorCode;

namespace {

/// A field of a form by the name of its column: `odometerOut` is `odometer_out`.
std::string columnOf(const std::string& field) {
    std::string column;
    for (const char c : field) {
        if (c >= 'A' && c <= 'Z')
            column += '_';
        column += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return column;
}

} // namespace

void RowSaver::bad(std::string column, std::string what) {
    report_.bad.push_back({line_, std::move(column), std::move(what)});
}

bool RowSaver::refuse(const core::Findings& findings) {
    bool any = false;
    for (const auto& finding : findings) {
        if (finding.severity != core::Severity::Error)
            continue;
        bad(columnOf(finding.field), finding.message);
        any = true;
    }
    return any;
}

bool RowSaver::doubts(const core::Findings& findings, const std::string& field) {
    for (const auto& finding : findings) {
        if (finding.field != field || finding.severity != core::Severity::Warning)
            continue;
        bad(columnOf(field), finding.message + " Where it is right, log it by hand.");
        return true;
    }
    return false;
}

bool RowSaver::isAhead(core::Date day, const std::string& column) {
    const auto now = shop_.exchange().session().now();
    // A day more, for a file from where it is tomorrow already.
    const auto tomorrow = std::chrono::floor<std::chrono::days>(now) + std::chrono::days(1);
    if (!day.ok() || std::chrono::sys_days(day) <= tomorrow)
        return false;
    bad(column, "expected a day that has come");
    return true;
}

template <class Record> RowSaver::Fate RowSaver::against(Record& row, const core::Result<Record>& stored) {
    if (!stored)
        return Fate::Add; // brings its key along
    row.revision = stored->revision;
    if (row == *stored)
        return Fate::There;
    if (update_)
        return Fate::Change;
    bad("id", "this record is in the shop with other values; expected the same, or to be told to update");
    return Fate::Bad;
}

void RowSaver::count(Fate fate) {
    report_.added += fate == Fate::Add ? 1U : 0U;
    report_.changed += fate == Fate::Change ? 1U : 0U;
    report_.there += fate == Fate::There ? 1U : 0U;
}

core::Result<std::optional<core::VehicleId>> RowSaver::vehicleOf(const VehicleName& name) {
    VehicleName wanted = name;
    wanted.vin = core::vinFromScan(name.vin);
    auto found = shop_.exchange().vehiclesNamed(wanted);
    // A file from elsewhere carries keys that mean nothing here; its VIN still does.
    if (found && found->empty() && wanted.id && !wanted.vin.empty()) {
        wanted.id.reset();
        found = shop_.exchange().vehiclesNamed(wanted);
    }
    if (!found)
        return core::failureOf(found);
    if (found->size() == 1)
        return std::optional(found->front());
    const char* column = wanted.id ? "vehicle_id" : wanted.vin.empty() ? "plate" : "vin";
    bad(column, found->empty() ? "expected a vehicle that is in the shop; import vehicles first"
                               : "expected a plate that one vehicle alone bears");
    return std::optional<core::VehicleId>();
}

core::Result<void> RowSaver::save(core::Customer customer) {
    if (refuse(core::validate(customer)))
        return {};
    Fate fate = Fate::Add;
    if (!customer.id.isNull()) {
        fate = against(customer, shop_.customers().find(customer.id));
    } else {
        const auto phone = customer.phones.empty() ? std::string() : customer.phones.front();
        const auto same = shop_.exchange().customersNamed(customer.name, phone);
        if (!same)
            return core::failureOf(same);
        if (!same->empty())
            fate = Fate::There;
    }
    if (fate == Fate::Add || fate == Fate::Change) {
        if (auto saved = shop_.customers().save(std::move(customer)); !saved)
            return core::failureOf(saved);
    }
    count(fate);
    return {};
}

core::Result<void> RowSaver::save(VehicleLine line) {
    core::Vehicle& vehicle = line.vehicle;
    vehicle.vin = core::vinFromScan(vehicle.vin);
    if (!vehicle.customer && !line.customerName.empty()) {
        const auto owners = shop_.exchange().customersNamed(line.customerName, line.customerPhone);
        if (!owners)
            return core::failureOf(owners);
        if (owners->size() != 1) {
            bad("customer",
                owners->empty()
                    ? "expected a customer who is in the shop; import customers first"
                    : "expected a name that one customer alone bears, or customer_phone beside it");
            return {};
        }
        vehicle.customer = owners->front();
    } else if (vehicle.customer) {
        const auto owner = shop_.customers().find(*vehicle.customer);
        if (!owner && owner.error().code == ErrorCode::NotFound) {
            bad("customer_id", "expected a customer who is in the shop; import customers first");
            return {};
        }
        if (!owner)
            return core::failureOf(owner);
    }
    if (refuse(core::validate(vehicle)))
        return {};
    const auto byVin = shop_.vehicles().findByVin(vehicle.vin);
    if (!byVin)
        return core::failureOf(byVin);
    Fate fate = Fate::Add;
    if (!vehicle.id.isNull()) {
        if (*byVin && (*byVin)->id != vehicle.id) {
            bad("vin", "another vehicle in the shop bears this VIN; expected one that is free");
            return {};
        }
        fate = against(vehicle, shop_.vehicles().find(vehicle.id));
    } else if (*byVin) {
        fate = Fate::There;
    } else if (vehicle.vin.empty()) {
        const auto byPlate = shop_.exchange().vehiclesNamed({{}, {}, vehicle.plate});
        if (!byPlate)
            return core::failureOf(byPlate);
        if (!byPlate->empty())
            fate = Fate::There;
    }
    if (fate == Fate::Add || fate == Fate::Change) {
        if (auto saved = shop_.vehicles().save(std::move(vehicle)); !saved)
            return core::failureOf(saved);
    }
    count(fate);
    return {};
}

core::Result<void> RowSaver::save(JobLine line) {
    core::Job& job = line.job;
    const auto vehicle = vehicleOf(line.vehicle);
    if (!vehicle)
        return core::failureOf(vehicle);
    if (!*vehicle)
        return {};
    job.vehicle = **vehicle;
    if (line.comebackOf) {
        const auto earlier = shop_.jobs().findByNumber(*line.comebackOf);
        if (!earlier)
            return core::failureOf(earlier);
        if (!*earlier) {
            bad("comeback_of", "expected the number of a job that is in the shop or stands above");
            return {};
        }
        job.comebackOf = (*earlier)->id;
    }
    const auto byNumber = shop_.jobs().findByNumber(job.number);
    if (!byNumber)
        return core::failureOf(byNumber);
    Fate fate = Fate::Add;
    if (!job.id.isNull()) {
        fate = against(job, shop_.jobs().find(job.id));
        if (fate == Fate::Add && *byNumber) {
            bad("number", "another job in the shop has this number; expected one that is free, or none");
            return {};
        }
    } else if (job.number > 0) {
        if (*byNumber && (*byNumber)->vehicle == job.vehicle) {
            fate = Fate::There;
        } else if (*byNumber) {
            bad("number", "the job of this number in the shop is another vehicle's; expected one that is "
                          "free, or none");
            return {};
        }
    } else {
        const auto same = shop_.exchange().jobsOf(job.vehicle, job.writtenUp, job.repairOrder);
        if (!same)
            return core::failureOf(same);
        if (!same->empty())
            fate = Fate::There;
    }
    if (fate == Fate::Add || fate == Fate::Change) {
        const JobBundle bundle{job, std::nullopt, std::nullopt};
        const auto found = shop_.jobs().check(bundle);
        if (!found)
            return core::failureOf(found);
        if (refuse(*found))
            return {};
        if (auto saved = shop_.jobs().save(bundle); !saved)
            return core::failureOf(saved);
    }
    count(fate);
    return {};
}

core::Result<void> RowSaver::save(FollowUpLine line) {
    core::FollowUp& call = line.followUp;
    auto job = call.job.isNull() ? core::Result<core::Job>(core::fail(ErrorCode::NotFound, "no key"))
                                 : shop_.jobs().find(call.job);
    if (!job && job.error().code != ErrorCode::NotFound)
        return core::failureOf(job);
    if (!job && line.job) {
        auto byNumber = shop_.jobs().findByNumber(*line.job);
        if (!byNumber)
            return core::failureOf(byNumber);
        if (*byNumber)
            job = std::move(**byNumber);
    }
    if (!job) {
        bad(line.job ? "job" : "job_id", "expected the number or the key of a job that is in the shop");
        return {};
    }
    call.job = job->id;
    const auto history = shop_.vehicles().history(job->vehicle);
    if (!history)
        return core::failureOf(history);
    const auto findings = core::validate(call, *history);
    if (refuse(findings) || isAhead(call.date, "date"))
        return {};
    Fate fate = Fate::Add;
    if (!call.id.isNull()) {
        fate = against(call, shop_.followUps().find(call.id));
    } else {
        const auto isSame = [&](const core::FollowUp& other) {
            return other.job == call.job && other.date == call.date && other.outcome == call.outcome &&
                   other.isVoid() == call.isVoid();
        };
        if (std::ranges::any_of(history->followUps, isSame))
            fate = Fate::There;
    }
    // A row with a key of ours was looked at when it was first logged.
    const bool isRead = call.odometer && !call.odometerEstimated && !call.isVoid();
    if (fate == Fate::Add && call.id.isNull() && isRead && doubts(findings, "odometer"))
        return {};
    if (fate == Fate::Add || fate == Fate::Change) {
        if (auto saved = shop_.followUps().save(std::move(call)); !saved)
            return core::failureOf(saved);
    }
    count(fate);
    return {};
}

core::Result<void> RowSaver::save(OdometerLine line) {
    core::OdometerReading& reading = line.reading;
    const auto vehicle = vehicleOf(line.vehicle);
    if (!vehicle)
        return core::failureOf(vehicle);
    if (!*vehicle)
        return {};
    reading.vehicle = **vehicle;
    const auto history = shop_.vehicles().history(reading.vehicle);
    if (!history)
        return core::failureOf(history);
    const auto findings = core::validate(reading, *history);
    if (refuse(findings) || isAhead(reading.date, "date"))
        return {};
    Fate fate = Fate::Add;
    if (!reading.id.isNull()) {
        auto stored = shop_.exchange().odometer(reading.id);
        if (!stored)
            return core::failureOf(stored);
        fate = *stored ? against(reading, core::Result<core::OdometerReading>(**stored)) : Fate::Add;
    } else {
        const auto same = shop_.exchange().odometersOf(reading.vehicle, reading.date, reading.shown);
        if (!same)
            return core::failureOf(same);
        if (!same->empty())
            fate = Fate::There;
    }
    if (fate == Fate::Add && reading.id.isNull() && doubts(findings, "shown"))
        return {};
    if (fate == Fate::Add || fate == Fate::Change) {
        if (auto saved = shop_.vehicles().saveOdometer(reading); !saved)
            return core::failureOf(saved);
    }
    count(fate);
    return {};
}

} // namespace milehold::storage
