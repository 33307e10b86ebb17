// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/ui/shelf/shelf_fixture.h"

namespace milehold::tests {

using core::CamRole;

core::Date day(int year, unsigned month, unsigned dayOfMonth) {
    return core::Date{std::chrono::year{year}, std::chrono::month{month}, std::chrono::day{dayOfMonth}};
}

core::Uuid uuid(std::uint8_t n) {
    core::Uuid id;
    id.bytes[0] = 0xab;
    id.bytes[15] = n;
    return id;
}

namespace {

std::vector<core::EngineFamily> families() {
    core::EngineFamily v6{{uuid(1)}, "Tarvick \"T6\" 3.3", 2, {}, "Läuft rau\nzweite Zeile ", 3};
    // Not in the order in which a set would have them.
    v6.positions = {{2, CamRole::Exhaust}, {1, CamRole::Intake}, {1, CamRole::Exhaust}, {2, CamRole::Intake}};
    core::EngineFamily four{{uuid(2)}, "Ollenby N4 1.9", 1, {{1, CamRole::Intake}}, "", 1};
    return {v6, four};
}

std::vector<core::PartNumber> parts() {
    core::PartNumber oldPhaser;
    oldPhaser.id.uuid = uuid(11);
    oldPhaser.number = "LP-4410";
    oldPhaser.component = core::Component::Phaser;
    oldPhaser.revisionLabel = "A";
    oldPhaser.introducedOn = day(2026, 2, 1);
    oldPhaser.supersededBy = core::PartNumberId{uuid(12)};
    oldPhaser.revision = 2;
    core::PartNumber newPhaser = oldPhaser;
    newPhaser.id.uuid = uuid(12);
    newPhaser.revisionLabel = "B";
    newPhaser.introducedOn = day(2028, 7, 9);
    newPhaser.supersededBy.reset();
    newPhaser.whatChanged = "Wider pin & bore; \"harder\"";
    newPhaser.supplier = "Lowick Drive Parts";
    newPhaser.claimMonths = 24;
    newPhaser.freshness = {day(2030, 5, 1), day(2031, 5, 1)}; // overdue
    core::PartNumber valve;
    valve.id.uuid = uuid(13);
    valve.number = "VC-218";
    valve.component = core::Component::OilControlValve;
    valve.revision = 1;
    return {oldPhaser, newPhaser, valve};
}

std::vector<core::Calibration> calibrations() {
    core::Calibration first;
    first.id.uuid = uuid(21);
    first.code = "T6K-0117A";
    first.module = "Engine computer";
    first.family = core::EngineFamilyId{uuid(1)};
    first.fromYear = 2014;
    first.releasedOn = day(2025, 3, 2);
    first.revision = 1;
    core::Calibration second = first;
    second.id.uuid = uuid(22);
    second.code = "T6K-0129A";
    second.supersedes = first.id;
    second.releasedOn = day(2027, 3, 2);
    second.freshness = {day(2031, 1, 1), day(2032, 1, 1)};
    return {first, second};
}

std::vector<core::RepairPath> paths() {
    const core::EngineFamilyId v6{uuid(1)};
    const core::EngineFamilyId four{uuid(2)};
    const core::PartNumberId newPhaser{uuid(12)};
    const core::PartNumberId valve{uuid(13)};
    core::RepairPath path;
    path.id.uuid = uuid(31);
    path.name = "All phasers, newest revision";
    path.lines = {"Open the cover", " Lock both banks "};
    path.parts = {{newPhaser, core::Position{1, CamRole::Intake}, 1},
                  {newPhaser, core::Position{2, CamRole::Intake}, 1},
                  {valve, std::nullopt, 4}};
    path.applies = {{{uuid(41)}, v6, 2014, std::nullopt, core::CalibrationId{uuid(21)}, std::nullopt},
                    {{uuid(42)}, four, std::nullopt, std::nullopt, std::nullopt, std::nullopt}};
    path.calibration = core::CalibrationId{uuid(22)};
    path.hours = {1050};
    path.price = {289'000};
    path.replaceOnce = {"Phaser bolts"};
    path.cautions = {"Lock both banks first.", "Hot oil."};
    path.freshness = {day(2031, 2, 1), day(2031, 4, 1)}; // overdue, longer than the phaser
    path.revision = 5;
    core::RepairPath spare;
    spare.id.uuid = uuid(32);
    spare.name = "Oil control valves";
    spare.applies = {{{uuid(43)}, v6, std::nullopt, std::nullopt, std::nullopt, std::nullopt}};
    spare.revision = 1;
    return {path, spare};
}

core::ShelfNote noteOnAPart() {
    core::ShelfNote note;
    note.id.uuid = uuid(51);
    note.subject = core::ShelfSubject::PartNumber;
    note.subjectId = uuid(12);
    note.text = "Look at the lot,\nthen fit.";
    note.source = "supplier's letter";
    note.freshness = {day(2031, 1, 1), std::nullopt};
    note.revision = 1;
    return note;
}

} // namespace

ui::ShelfContents smallShelf() {
    ui::ShelfContents all;
    all.today = day(2031, 5, 16);
    all.shelf.families = families();
    all.shelf.parts = parts();
    all.shelf.calibrations = calibrations();
    all.shelf.paths = paths();
    all.shelf.notes = {noteOnAPart()};
    all.staff = {{{uuid(61)}, "Ida Farrowby", false, true, true, true, 1},
                 {{uuid(62)}, "Lorne Inskip", true, false, false, false, 4}};
    all.settings.name = "Hollow Creek Timing";
    all.settings.warrantyDistance = core::Distance::kilometres(38'625);
    all.settings.warrantyTerms = "Keep the receipts.\n";
    all.settings.defaultYearly = core::Distance::kilometres(19'000); // not a whole number of miles
    all.settings.revision = 2;
    return all;
}

} // namespace milehold::tests
