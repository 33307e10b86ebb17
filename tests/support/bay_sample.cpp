// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/bay_sample.h"

namespace milehold::tests {
namespace {

using namespace std::chrono_literals;
using core::CamRole;
using core::Component;
using core::Position;

core::Shelf shelf() {
    core::Shelf shelf;
    const std::vector<Position> four = {
        {1, CamRole::Intake}, {1, CamRole::Exhaust}, {2, CamRole::Intake}, {2, CamRole::Exhaust}};
    const std::vector<Position> two = {{1, CamRole::Intake}, {1, CamRole::Exhaust}};
    shelf.families = {{kFamily, "Tarvick T6 3.3", 2, four, "", 1},
                      {kInline, "Ollenby N4 1.9", 1, two, "", 1}};

    const auto part = [&](core::PartNumberId id, const char* number, Component component, const char* label) {
        core::PartNumber row;
        row.id = id;
        row.number = number;
        row.component = component;
        row.revisionLabel = label;
        row.revision = 1;
        shelf.parts.push_back(row);
    };
    part(kOldPhaser, "LP-4410", Component::Phaser, "B");
    part(kPhaser, "LP-4410", Component::Phaser, "C");
    part(kChain, "CS-630", Component::ChainSet, "B");
    part(kValve, "VC-218", Component::OilControlValve, "B");
    shelf.parts[0].supersededBy = kPhaser;

    const char* codes[] = {"T6K-0117A", "T6K-0129A", "T6K-0140C"};
    for (std::uint8_t i = 0; i < 3; ++i) {
        core::Calibration row;
        row.id = idOf<core::CalibrationId>(static_cast<std::uint8_t>(i + 1));
        row.code = codes[i];
        row.module = "Engine computer";
        row.family = kFamily;
        if (i > 0)
            row.supersedes = idOf<core::CalibrationId>(i);
        row.revision = 1;
        shelf.calibrations.push_back(row);
    }

    const auto path = [&](core::RepairPathId id, const char* name, core::EngineFamilyId family, int hours,
                          int price) {
        core::RepairPath row;
        row.id = id;
        row.name = name;
        row.applies = {
            {idOf<core::PathAppliesId>(id.uuid.bytes[15]), family, 2014, 2026, std::nullopt, std::nullopt}};
        row.hours = {hours};
        row.price = {price};
        row.revision = 1;
        shelf.paths.push_back(row);
    };
    path(kSoftware, "Calibration alone", kFamily, 110, 18'900);
    path(kPhasers, "All four phasers", kFamily, 1050, 289'000);
    path(kPhasersAndChain, "Phasers with the chain set", kFamily, 1420, 416'000);
    path(kInlinePhasers, "Both phasers", kInline, 620, 148'000);
    for (auto& row : shelf.paths) {
        row.lines = {"Open the front cover", "Lock the timing on both banks",
                     "Cold start after an overnight soak"};
        row.cautions = {
            "Lock both banks before the chain comes off, and never turn the crank with it off: pistons and "
            "valves meet.",
            "Put a supply on the battery for the whole programming session."};
        row.replaceOnce = {"Phaser bolts", "Cover seal"};
        row.calibration = idOf<core::CalibrationId>(3);
    }
    for (const auto position : four)
        for (std::size_t i = 1; i < 3; ++i)
            shelf.paths[i].parts.push_back({kPhaser, position, 1});
    shelf.paths[2].parts.push_back({kChain, std::nullopt, 1});
    for (const auto position : two)
        shelf.paths[3].parts.push_back({kPhaser, position, 1});
    return shelf;
}

} // namespace

ui::BayContext sampleContext() {
    ui::BayContext context;
    context.shelf = std::make_shared<const core::Shelf>(shelf());
    context.staff = {{kTechnician, "Corin Wainfleet", true, false, false, true, 1},
                     {kAdvisor, "Jessa Okonjo", false, true, false, true, 1},
                     {idOf<core::StaffId>(3), "Lorne Inskip", true, false, false, false, 1}};
    context.settings.name = "Hollow Creek Timing";
    context.settings.warrantyMonths = 24;
    context.settings.warrantyDistance = core::Distance::miles(24'000);
    context.today = core::Date{2031y / 5 / 16};
    context.who = kTechnician;
    return context;
}

ui::JobCard sampleCard() {
    ui::JobCard card;
    card.vehicle = {idOf<core::VehicleId>(1),
                    "10TVA3E25LB004821",
                    "KTR 0402",
                    "Tarvick",
                    "Grello",
                    2020,
                    kFamily,
                    idOf<core::CustomerId>(1),
                    "",
                    1};
    card.customer = core::Customer{
        idOf<core::CustomerId>(1), "Fenna Dallimore", {"(415) 555-0142"}, {}, "after 5 pm", false, "", 1};
    card.job.id = idOf<core::JobId>(99);
    card.job.vehicle = card.vehicle.id;
    card.job.writtenUp = core::Date{2031y / 5 / 16};
    card.job.delivered = core::Date{2031y / 5 / 16};
    card.job.technician = kTechnician;
    return card;
}

core::VehicleHistory samplePast() {
    core::VehicleHistory past;
    past.vehicle = sampleCard().vehicle;
    core::Job repair;
    repair.id = idOf<core::JobId>(1);
    repair.number = 212;
    repair.vehicle = past.vehicle.id;
    repair.path = kPhasers;
    repair.writtenUp = core::Date{2029y / 3 / 5};
    repair.delivered = core::Date{2029y / 3 / 7};
    repair.odometerIn = core::Distance::miles(84'120);
    repair.odometerOut = core::Distance::miles(84'126);
    repair.technician = kTechnician;
    repair.deliveryCheck = core::DeliveryCheck::Quiet;
    repair.revision = 1;
    core::Job visit = repair;
    visit.id = idOf<core::JobId>(2);
    visit.number = 287;
    visit.kind = core::JobKind::Visit;
    visit.path.reset();
    visit.concernGroup = core::ConcernGroup::None;
    visit.writtenUp = core::Date{2030y / 2 / 11};
    visit.delivered = core::Date{2030y / 2 / 11};
    visit.odometerIn = core::Distance::miles(95'800);
    visit.odometerOut = core::Distance::miles(95'800);
    past.jobs = {repair, visit};
    core::FollowUp quiet;
    quiet.id = idOf<core::FollowUpId>(1);
    quiet.job = repair.id;
    quiet.date = core::Date{2029y / 9 / 20};
    quiet.outcome = core::FollowUpOutcome::Quiet;
    quiet.odometer = core::Distance::miles(90'400);
    core::FollowUp noAnswer = quiet;
    noAnswer.id = idOf<core::FollowUpId>(2);
    noAnswer.date = core::Date{2030y / 9 / 2};
    noAnswer.outcome = core::FollowUpOutcome::NoAnswer;
    noAnswer.odometer.reset();
    past.followUps = {quiet, noAnswer};
    core::OdometerReading typed;
    typed.id = idOf<core::OdometerId>(1);
    typed.vehicle = past.vehicle.id;
    typed.date = core::Date{2028y / 6 / 1};
    typed.shown = core::Distance::miles(75'300);
    past.odometers = {typed};
    return past;
}

} // namespace milehold::tests
