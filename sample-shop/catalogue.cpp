// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-shop/catalogue.h"

#include "sample-shop/catalogue_parts.h"

#include <algorithm>
#include <initializer_list>

namespace milehold::sample {
namespace {

using core::CamRole;
using core::Position;

const std::vector<Position> kFourCams = {
    {1, CamRole::Intake}, {1, CamRole::Exhaust}, {2, CamRole::Intake}, {2, CamRole::Exhaust}};
const std::vector<Position> kTwoCams = {{1, CamRole::Intake}, {1, CamRole::Exhaust}};
const std::vector<Position> kSingleCams = {{1, CamRole::Single}, {2, CamRole::Single}};

void addFamily(Catalogue& book, Random& random, std::string name, std::uint8_t banks,
               const std::vector<Position>& positions, std::string note, FamilyKit kit) {
    kit.id = random.id<core::EngineFamilyId>();
    kit.positions = positions;
    book.shelf.families.push_back({kit.id, std::move(name), banks, positions, std::move(note), 0});
    book.families.push_back(std::move(kit));
}

void addFamilies(Catalogue& book, Random& random) {
    const int year = static_cast<int>(dateOf(book.end).year());
    addFamily(
        book, random, "Tarvick T6 3.3", 2, kFourCams,
        "Most of what comes in. Phasers drain overnight; the front cover comes off with the engine in.",
        {{}, "Tarvick", {"Grello", "Stannary", "Grello Long Bed"}, "0TV", 0.56, year - 17, year - 5, {}, {}});
    addFamily(
        book, random, "Tarvick T8 4.7", 2, kFourCams,
        "Same phasers as the T6. Second bank needs the compressor moved.",
        {{}, "Tarvick", {"Stannary", "Hoyland", "Hoyland Crew"}, "0TV", 0.18, year - 16, year - 6, {}, {}});
    addFamily(
        book, random, "Ollenby N4 1.9", 1, kTwoCams, "Inline four, both phasers behind one cover.",
        {{}, "Ollenby", {"Pibroch", "Tassel", "Pibroch Van"}, "0LB", 0.16, year - 14, year - 4, {}, {}});
    addFamily(book, random, "Sundrel S8 5.1", 2, kSingleCams,
              "One cam a bank. Chains wear before the phasers do.",
              {{}, "Sundrel", {"Ibbis", "Ibbis Heavy", "Drovane"}, "0SD", 0.10, year - 19, year - 9, {}, {}});
}

void addCalibrations(Catalogue& book, Random& random) {
    const std::array<std::string_view, 4> stems = {"T6K-01", "T8K-03", "N4K-02", "S8K-05"};
    const std::array<std::array<std::string_view, 3>, 4> levels = {
        {{"17A", "29A", "40C"}, {"08A", "15B", "22A"}, {"31A", "33A", "41A"}, {"02A", "06A", "11B"}}};
    const std::array<Day, 3> released = {book.begin - 900, book.begin - 120, book.begin + 1100};
    for (std::size_t f = 0; f < book.families.size(); ++f) {
        FamilyKit& family = book.families[f];
        std::optional<core::CalibrationId> previous;
        for (std::size_t level = 0; level < 3; ++level) {
            core::Calibration row;
            row.id = random.id<core::CalibrationId>();
            row.code = std::string(stems[f]) + std::string(levels[f][level]);
            row.module = "Engine computer";
            row.family = family.id;
            row.fromYear = family.fromYear;
            row.toYear = family.toYear;
            row.supersedes = previous;
            const Day day = released[level] + static_cast<Day>(37 * f);
            row.releasedOn = dateOf(day);
            row.freshness = {dateOf(book.end - 60 - static_cast<Day>(11 * f)),
                             dateOf(book.end + 120 - static_cast<Day>(45 * f))};
            if (level < 2)
                row.freshness = {};
            previous = row.id;
            family.calibrations[level] = {row.id, row.code, day};
            book.shelf.calibrations.push_back(std::move(row));
        }
    }
}

void addPeople(Catalogue& book, Random& random) {
    struct Person {
        std::string_view name;
        bool technician, advisor, owner, active;
    };
    for (const Person& person : std::initializer_list<Person>{{"Ida Farrowby", false, true, true, true},
                                                              {"Corin Wainfleet", true, false, false, true},
                                                              {"Nadia Threlkeld", true, false, false, true},
                                                              {"Emory Cawdrey", true, false, false, true},
                                                              {"Lorne Inskip", true, false, false, false},
                                                              {"Jessa Okonjo", false, true, false, true}}) {
        core::Staff row;
        row.id = random.id<core::StaffId>();
        row.name = std::string(person.name);
        row.technician = person.technician;
        row.advisor = person.advisor;
        row.owner = person.owner;
        row.active = person.active;
        if (row.technician)
            book.technicians.push_back(row.id);
        if (row.advisor)
            book.advisors.push_back(row.id);
        if (row.owner)
            book.owner = row.id;
        book.staff.push_back(std::move(row));
    }
}

void addSettings(Catalogue& book) {
    book.settings.name = "Hollow Creek Timing";
    book.settings.warrantyMonths = 24;
    book.settings.warrantyDistance = core::Distance::miles(24'000);
    book.settings.warrantyTerms = "24 months or 24,000 miles, whichever comes first, on parts and labor of "
                                  "this repair. Oil must be changed as "
                                  "the maker asks; keep the receipts.";
}

void addNotes(Catalogue& book, Random& random) {
    const auto add = [&](core::ShelfSubject subject, core::Uuid about, std::string text, std::string source,
                         Day checked, Day again) {
        book.shelf.notes.push_back({random.id<core::ShelfNoteId>(),
                                    subject,
                                    about,
                                    std::move(text),
                                    std::move(source),
                                    {dateOf(checked), dateOf(again)},
                                    0});
    };
    using core::ShelfSubject;
    const Day end = book.end;
    add(ShelfSubject::EngineFamily, book.families[kV6].id.uuid,
        "Check the oil filter's drain-back valve before blaming a phaser: a cheap filter drains the gallery "
        "overnight.",
        "our own jobs", end - 400, end + 330);
    add(ShelfSubject::EngineFamily, book.families[kSingleCam].id.uuid,
        "Guide pieces in the pan block the pickup screen. Drop the pan on every chain job.", "our own jobs",
        end - 820, end - 90);
    add(ShelfSubject::PartNumber, book.intakePhaser.revisions[1].id.uuid,
        "A run of B pieces had soft pins. Look at the lot before fitting old stock.", "supplier's letter",
        end - 1100, end - 370);
    add(ShelfSubject::PartNumber, book.valve.newest().id.uuid,
        "Some came back within the year. Keep the lot on the job so that we can tell.", "our own jobs",
        end - 200, end + 165);
    add(ShelfSubject::RepairPath, book.paths[static_cast<std::size_t>(PathKey::CalibrationAlone)].uuid,
        "Only where pin play is within reason on every phaser. Say plainly that it may not hold.",
        "shop meeting", end - 500, end + 230);
    add(ShelfSubject::RepairPath, book.paths[static_cast<std::size_t>(PathKey::Screened)].uuid,
        "New. None has come back, but the oldest is less than a year on the road.", "shop meeting", end - 120,
        end + 60);
    add(ShelfSubject::Calibration, book.families[kV6].calibrations[2].id.uuid,
        "Holds the phasers at rest until oil pressure is there. Needs battery support for the whole session.",
        "release note", end - 300, end + 65);
}

} // namespace

Day dayOf(core::Date date) {
    return std::chrono::sys_days(date).time_since_epoch().count();
}

core::Date dateOf(Day day) {
    return core::Date{std::chrono::sys_days{std::chrono::days{day}}};
}

Day workdayFrom(Day day) {
    const Day weekday = ((day % 7) + 11) % 7; // 1970-01-01 was a Thursday: 0 is Sunday
    if (weekday == 6)
        return day + 2;
    return weekday == 0 ? day + 1 : day;
}

const RevisionKit& PartKit::on(Day day) const {
    for (auto it = revisions.rbegin(); it != revisions.rend(); ++it)
        if (it->introduced <= day)
            return *it;
    return revisions.front();
}

const RevisionKit& PartKit::oldStockOn(Day day) const {
    const RevisionKit& current = on(day);
    return &current == &revisions.front() ? current : *(&current - 1);
}

std::size_t FamilyKit::calibrationOn(Day day) const {
    std::size_t newest = 0;
    for (std::size_t i = 1; i < calibrations.size(); ++i)
        if (calibrations[i].released <= day)
            newest = i;
    return newest;
}

Catalogue makeCatalogue(core::Date endsOn, Random& random) {
    Catalogue book;
    book.end = dayOf(endsOn);
    book.begin = book.end - kBookYears * 365 - 1;
    addFamilies(book, random);
    addCalibrations(book, random);
    addParts(book, random);
    addPaths(book, random);
    addPeople(book, random);
    addSettings(book);
    addNotes(book, random);
    return book;
}

} // namespace milehold::sample
