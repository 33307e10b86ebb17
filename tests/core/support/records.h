// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/shop/finding.h"
#include "core/shop/labels.h"
#include "core/shop/shelf.h"

#include <algorithm>
#include <cstdint>
#include <string_view>

namespace milehold::core::testing_support {

/// A key made from a number, so that tests can name records.
template <class IdType> IdType key(std::uint8_t number) {
    IdType id;
    id.uuid.bytes[15] = number;
    return id;
}

inline JobId job(std::uint8_t number) {
    return key<JobId>(number);
}
inline FollowUpId call(std::uint8_t number) {
    return key<FollowUpId>(number);
}

/// `day("2031-04-09")`; a text that is no date makes a date that is none.
inline Date day(std::string_view iso) {
    return dateFromIso(iso).value_or(Date{});
}

inline Distance miles(std::int64_t count) {
    return Distance::miles(count);
}

/// An inline engine with an intake and an exhaust phaser, its parts (an old and a new phaser, a valve), two
/// calibrations and one path. All of it invented.
struct SmallShelf {
    EngineFamilyId family = key<EngineFamilyId>(1);
    PartNumberId oldPhaser = key<PartNumberId>(1);
    PartNumberId newPhaser = key<PartNumberId>(2);
    PartNumberId valve = key<PartNumberId>(3);
    CalibrationId oldCalibration = key<CalibrationId>(1);
    CalibrationId newCalibration = key<CalibrationId>(2);
    RepairPathId phasers = key<RepairPathId>(1);
    RepairPathId valves = key<RepairPathId>(2);
    Shelf shelf;

    SmallShelf() {
        const Position intake{1, CamRole::Intake};
        const Position exhaust{1, CamRole::Exhaust};
        shelf.families = {{family, "Quill 1.6", 1, {intake, exhaust}, "", 1}};
        PartNumber old;
        old.id = oldPhaser;
        old.number = "QP-1100";
        old.revisionLabel = "A";
        old.component = Component::Phaser;
        old.supersededBy = newPhaser;
        PartNumber fresh = old;
        fresh.id = newPhaser;
        fresh.revisionLabel = "B";
        fresh.supersededBy = std::nullopt;
        PartNumber oilValve;
        oilValve.id = valve;
        oilValve.number = "QV-20";
        oilValve.component = Component::OilControlValve;
        shelf.parts = {old, fresh, oilValve};
        Calibration first;
        first.id = oldCalibration;
        first.code = "QC01";
        first.module = "engine";
        first.releasedOn = day("2029-01-10");
        Calibration second = first;
        second.id = newCalibration;
        second.code = "QC02";
        second.supersedes = oldCalibration;
        second.releasedOn = day("2030-06-01");
        shelf.calibrations = {first, second};
        RepairPath path;
        path.id = phasers;
        path.name = "Phasers, both cams";
        path.lines = {"Replace both phasers"};
        path.parts = {{oldPhaser, intake, 1}, {oldPhaser, exhaust, 1}};
        path.calibration = oldCalibration;
        path.hours = Hours{650};
        path.price = Money{124'000};
        PathApplies entry;
        entry.id = key<PathAppliesId>(1);
        entry.family = family;
        entry.fromYear = 2019;
        entry.toYear = 2026;
        path.applies = {entry};
        RepairPath second_path = path;
        second_path.id = valves;
        second_path.name = "Oil control valves";
        second_path.lines = {"Replace both oil control valves"};
        second_path.parts = {{valve, intake, 1}, {valve, exhaust, 1}};
        second_path.calibration = std::nullopt;
        second_path.hours = Hours{180};
        second_path.price = Money{31'000};
        shelf.paths = {path, second_path};
    }
};

/// A vehicle of that engine family.
inline Vehicle vehicle() {
    Vehicle made;
    made.id = key<VehicleId>(1);
    made.plate = "TST 101";
    made.modelYear = 2022;
    made.family = key<EngineFamilyId>(1);
    return made;
}

/// A delivered repair that passes every rule.
inline Job repair(std::uint8_t number, std::string_view date, std::int64_t outMiles) {
    Job made;
    made.id = job(number);
    made.number = number;
    made.vehicle = key<VehicleId>(1);
    made.path = key<RepairPathId>(1);
    made.writtenUp = day(date);
    made.delivered = day(date);
    made.odometerIn = miles(outMiles);
    made.odometerOut = miles(outMiles);
    made.technician = key<StaffId>(1);
    made.deliveryCheck = DeliveryCheck::Quiet;
    return made;
}

inline Job visit(std::uint8_t number, std::string_view date, std::int64_t inMiles) {
    Job made;
    made.id = job(number);
    made.number = number;
    made.kind = JobKind::Visit;
    made.vehicle = key<VehicleId>(1);
    made.writtenUp = day(date);
    made.odometerIn = miles(inMiles);
    made.concernGroup = ConcernGroup::None;
    return made;
}

/// A job that came back from job `of`, still in work.
inline Job comeback(std::uint8_t number, std::uint8_t of, std::string_view date, std::int64_t inMiles) {
    Job made = visit(number, date, inMiles);
    made.kind = JobKind::Repair;
    made.concernGroup = ConcernGroup::StartupRattle;
    made.comebackOf = job(of);
    made.comebackDecision = ComebackDecision::SameConcern;
    made.decidedBy = key<StaffId>(1);
    return made;
}

inline FollowUp heard(std::uint8_t number, std::uint8_t about, std::string_view date, FollowUpOutcome outcome,
                      std::optional<std::int64_t> atMiles = std::nullopt) {
    FollowUp made;
    made.id = call(number);
    made.job = job(about);
    made.date = day(date);
    made.outcome = outcome;
    if (atMiles)
        made.odometer = miles(*atMiles);
    return made;
}

inline OdometerReading reading(std::uint8_t number, std::string_view date, std::int64_t shownMiles) {
    OdometerReading made;
    made.id = key<OdometerId>(number);
    made.vehicle = key<VehicleId>(1);
    made.date = day(date);
    made.shown = miles(shownMiles);
    return made;
}

inline VehicleHistory history() {
    VehicleHistory made;
    made.vehicle = vehicle();
    return made;
}

/// The severity of the worst finding in a field; empty when there is none.
inline std::optional<Severity> worstIn(const Findings& findings, std::string_view field) {
    std::optional<Severity> worst;
    for (const auto& finding : findings)
        if (finding.field == field)
            worst = std::max(worst.value_or(Severity::Hint), finding.severity);
    return worst;
}

} // namespace milehold::core::testing_support
