// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-shop/catalogue_parts.h"

#include <utility>

namespace milehold::sample {
namespace {

using core::CamRole;
using core::Component;
using core::Position;

struct Revision {
    std::string_view label;
    Day introduced;
    std::string_view whatChanged;
};

PartKit addPart(Catalogue& book, Random& random, std::string_view number, Component component,
                std::string_view supplier, std::int64_t price, const std::vector<Revision>& revisions) {
    PartKit kit;
    std::vector<core::PartNumber> rows;
    for (const Revision& revision : revisions) {
        core::PartNumber row;
        row.id = random.id<core::PartNumberId>();
        row.number = std::string(number);
        row.component = component;
        row.revisionLabel = std::string(revision.label);
        row.whatChanged = std::string(revision.whatChanged);
        row.introducedOn = dateOf(revision.introduced);
        row.supplier = std::string(supplier);
        if (component == Component::Phaser || component == Component::OilControlValve ||
            component == Component::ChainSet)
            row.claimMonths = 24;
        if (component == Component::Tensioner || component == Component::Guide)
            row.claimMonths = 12;
        kit.revisions.push_back(
            {row.id, number, revision.label, revision.introduced, price * 62 / 100, price});
        rows.push_back(std::move(row));
    }
    for (std::size_t i = 0; i + 1 < rows.size(); ++i)
        rows[i].supersededBy = rows[i + 1].id;
    // Only what is fitted today is looked after; a few of those checks are overdue.
    rows.back().freshness = {dateOf(book.end - random.between(90, 300)),
                             dateOf(book.end + random.between(-70, 240))};
    for (core::PartNumber& row : rows)
        book.shelf.parts.push_back(std::move(row));
    return kit;
}

core::RepairPath& addPath(Catalogue& book, Random& random, PathKey key, std::vector<std::size_t> families) {
    core::RepairPath path;
    path.id = random.id<core::RepairPathId>();
    path.name = std::string(lawOf(key).name);
    for (const std::size_t f : families) {
        const FamilyKit& family = book.families[f];
        path.applies.push_back({random.id<core::PathAppliesId>(), family.id, family.fromYear, family.toYear,
                                std::nullopt, std::nullopt});
    }
    path.freshness = {dateOf(book.end - random.between(30, 200)), dateOf(book.end + random.between(20, 300))};
    book.paths[static_cast<std::size_t>(key)] = path.id;
    book.since[static_cast<std::size_t>(key)] = book.begin - 365;
    book.shelf.paths.push_back(std::move(path));
    return book.shelf.paths.back();
}

core::PathPart fitted(const PartKit& kit, std::uint8_t bank, CamRole cam) {
    return {kit.newest().id, Position{bank, cam}, 1};
}
core::PathPart fitted(const PartKit& kit, int quantity = 1) {
    return {kit.newest().id, std::nullopt, quantity};
}

const std::string kLockTiming = "Lock both banks before the chain comes off, and never turn the crank with "
                                "it off: pistons and valves meet.";
const std::string kHotOil =
    "Let the oil cool before opening a gallery, and keep sleeves and hair away from the belt.";
const std::string kBattery = "Put a supply on the battery for the whole programming session; a drop half way "
                             "can leave the computer dead.";
const std::string kTorque =
    "Torque, angle and order as the maker's service information has them, with a wrench that is in "
    "date. Stretch bolts go in once.";
const std::string kSolvent =
    "Gloves and air when cleaning the covers; keep solvent off hot pipes and out of the oil passages.";
const std::string kRoadTest = "Road test with a second person watching the data, never the driver.";
const std::string kUsedOil = "Used oil and filters go to the collector, as the local rules say.";

} // namespace

void addParts(Catalogue& book, Random& random) {
    const Day b = book.begin;
    const std::string_view drive = "Lowick Drive Parts";
    const std::string_view cast = "Marren & Cope";
    const auto part = [&](std::string_view number, Component component, std::string_view supplier,
                          std::int64_t price, const std::vector<Revision>& revisions) {
        return addPart(book, random, number, component, supplier, price, revisions);
    };
    book.intakePhaser = part("LP-4410", Component::Phaser, drive, 21'850,
                             {{"A", b - 400, ""},
                              {"B", b + 500, "Wider lock pin, harder bore"},
                              {"C", b + 1150, "New return spring; vane seals of another material"}});
    book.exhaustPhaser = part("LP-4420", Component::Phaser, drive, 21'850,
                              {{"A", b - 400, ""},
                               {"B", b + 500, "Wider lock pin, harder bore"},
                               {"C", b + 1150, "New return spring; vane seals of another material"}});
    book.screenedIntake =
        part("LP-4412", Component::Phaser, drive, 27'400, {{"A", book.end - 340, "Screen in the feed"}});
    book.screenedExhaust =
        part("LP-4422", Component::Phaser, drive, 27'400, {{"A", book.end - 340, "Screen in the feed"}});
    book.inlineIntake = part("NP-2206", Component::Phaser, cast, 18'600,
                             {{"A", b - 500, ""}, {"B", b + 900, "Second drain hole closed"}});
    book.inlineExhaust = part("NP-2216", Component::Phaser, cast, 18'600,
                              {{"A", b - 500, ""}, {"B", b + 900, "Second drain hole closed"}});
    book.singleCam = part("SP-3308", Component::Phaser, cast, 24'200,
                          {{"A", b - 600, ""}, {"B", b + 900, "Pin seat ground after hardening"}});
    book.valve = part("VC-218", Component::OilControlValve, drive, 8'450,
                      {{"A", b - 600, ""}, {"B", b + 800, "Finer screen, stronger spring"}});
    book.chainSet = part("CS-630", Component::ChainSet, drive, 46'500,
                         {{"A", b - 700, ""}, {"B", b + 1000, "Guides with a steel back"}});
    book.singleCamChain = part("CS-641", Component::ChainSet, cast, 52'300, {{"A", b - 700, ""}});
    book.tensioner = part("TN-305", Component::Tensioner, drive, 11'900,
                          {{"A", b - 700, ""}, {"B", b + 620, "Ratchet holds when standing"}});
    book.guides = part("GD-118", Component::Guide, drive, 7'600, {{"A", b - 700, ""}});
    book.seal = part("SL-077", Component::Seal, cast, 4'850, {{"A", b - 700, ""}});
    book.bolts = part("FB-052", Component::Fastener, drive, 2'240, {{"A", b - 700, ""}});
    book.oil = part("OL-0530", Component::Oil, cast, 950, {{"1", b - 700, ""}});
}

namespace {

/// What is done with the engine closed.
void addPathsOutside(Catalogue& book, Random& random) {
    core::RepairPath& software =
        addPath(book, random, PathKey::CalibrationAlone, {kV6, kV8, kInline, kSingleCam});
    software.lines = {"Read the calibration and the stored codes",
                      "Connect battery support, load the newest calibration", "Relearn cam stops",
                      "Cold start after an overnight soak"};
    software.cautions = {kBattery, kRoadTest};
    software.hours = {110};
    software.price = {18'900};

    core::RepairPath& valves = addPath(book, random, PathKey::ControlValves, {kV6, kV8, kInline, kSingleCam});
    valves.lines = {"Replace the oil control valves", "Clean the valve screens and bores", "Oil and filter",
                    "Cold start after an overnight soak"};
    valves.parts = {fitted(book.valve, 2), fitted(book.oil, 6)};
    valves.replaceOnce = {"Valve O-rings"};
    valves.cautions = {kHotOil, kUsedOil};
    valves.hours = {240};
    valves.price = {64'000};
}

/// What is done to the V engines behind the front cover.
void addPathsOfBothBanks(Catalogue& book, Random& random) {
    const auto both = std::vector<std::size_t>{kV6, kV8};

    core::RepairPath& bank = addPath(book, random, PathKey::OneBank, both);
    bank.lines = {"Open the front cover on one bank", "Lock the timing", "Replace both phasers of the bank",
                  "Seal the cover, oil and filter", "Cold start after an overnight soak"};
    bank.parts = {fitted(book.intakePhaser, 1, CamRole::Intake),
                  fitted(book.exhaustPhaser, 1, CamRole::Exhaust), fitted(book.bolts, 2), fitted(book.seal),
                  fitted(book.oil, 6)};
    bank.replaceOnce = {"Phaser bolts", "Cover seal"};
    bank.cautions = {kLockTiming, kTorque, kSolvent, kHotOil};
    bank.hours = {780};
    bank.price = {182'000};

    core::RepairPath& phasers = addPath(book, random, PathKey::AllPhasers, both);
    phasers.lines = {"Open the front cover",           "Lock the timing on both banks",
                     "Replace all four phasers",       "Load the newest calibration",
                     "Seal the cover, oil and filter", "Cold start after an overnight soak"};
    phasers.parts = {fitted(book.intakePhaser, 1, CamRole::Intake),
                     fitted(book.exhaustPhaser, 1, CamRole::Exhaust),
                     fitted(book.intakePhaser, 2, CamRole::Intake),
                     fitted(book.exhaustPhaser, 2, CamRole::Exhaust),
                     fitted(book.bolts, 4),
                     fitted(book.seal),
                     fitted(book.oil, 6)};
    phasers.replaceOnce = {"Phaser bolts", "Cover seal"};
    phasers.cautions = {kLockTiming, kTorque, kBattery, kSolvent, kHotOil};
    phasers.hours = {1050};
    phasers.price = {289'000};

    core::RepairPath& chain = addPath(book, random, PathKey::PhasersAndChain, both);
    chain.lines = {"Open the front cover, drop the pan",
                   "Lock the timing on both banks",
                   "Replace all four phasers, chain set, tensioners and guides",
                   "Clean the pickup screen",
                   "Load the newest calibration",
                   "Seal the cover, oil and filter",
                   "Cold start after an overnight soak"};
    chain.parts = phasers.parts;
    chain.parts.push_back(fitted(book.chainSet));
    chain.parts.push_back(fitted(book.tensioner, 2));
    chain.parts.push_back(fitted(book.guides));
    chain.replaceOnce = {"Phaser bolts", "Cover seal", "Tensioner gaskets"};
    chain.cautions = {kLockTiming, kTorque, kBattery, kSolvent, kHotOil, kUsedOil};
    chain.hours = {1420};
    chain.price = {416'000};

    core::RepairPath& screened = addPath(book, random, PathKey::Screened, both);
    book.since[static_cast<std::size_t>(PathKey::Screened)] = book.end - 300;
    screened.lines = phasers.lines;
    screened.parts = {fitted(book.screenedIntake, 1, CamRole::Intake),
                      fitted(book.screenedExhaust, 1, CamRole::Exhaust),
                      fitted(book.screenedIntake, 2, CamRole::Intake),
                      fitted(book.screenedExhaust, 2, CamRole::Exhaust),
                      fitted(book.bolts, 4),
                      fitted(book.seal),
                      fitted(book.oil, 6)};
    screened.replaceOnce = phasers.replaceOnce;
    screened.cautions = phasers.cautions;
    screened.hours = {1050};
    screened.price = {324'000};
}

void addPathsOfOtherEngines(Catalogue& book, Random& random) {
    core::RepairPath& inlineFour = addPath(book, random, PathKey::BothPhasers, {kInline});
    inlineFour.lines = {
        "Open the cam cover and front cover", "Lock the timing", "Replace both phasers",
        "Load the newest calibration",        "Oil and filter",  "Cold start after an overnight soak"};
    inlineFour.parts = {fitted(book.inlineIntake, 1, CamRole::Intake),
                        fitted(book.inlineExhaust, 1, CamRole::Exhaust), fitted(book.bolts, 2),
                        fitted(book.seal), fitted(book.oil, 5)};
    inlineFour.replaceOnce = {"Phaser bolts", "Cover seal"};
    inlineFour.cautions = {kLockTiming, kTorque, kBattery, kHotOil};
    inlineFour.hours = {620};
    inlineFour.price = {148'000};

    core::RepairPath& single = addPath(book, random, PathKey::SingleCamSet, {kSingleCam});
    single.lines = {"Open the front cover, drop the pan",     "Lock the timing on both banks",
                    "Replace both phasers and the chain set", "Clean the pickup screen",
                    "Seal the cover, oil and filter",         "Cold start after an overnight soak"};
    single.parts = {fitted(book.singleCam, 1, CamRole::Single),
                    fitted(book.singleCam, 2, CamRole::Single),
                    fitted(book.singleCamChain),
                    fitted(book.bolts, 2),
                    fitted(book.seal),
                    fitted(book.oil, 7)};
    single.replaceOnce = {"Phaser bolts", "Cover seal", "Tensioner gaskets"};
    single.cautions = {kLockTiming, kTorque, kSolvent, kHotOil, kUsedOil};
    single.hours = {1180};
    single.price = {352'000};
}

} // namespace

void addPaths(Catalogue& book, Random& random) {
    book.shelf.paths.reserve(kPathCount); // references to paths stay good
    addPathsOutside(book, random);
    addPathsOfBothBanks(book, random);
    addPathsOfOtherEngines(book, random);
}

} // namespace milehold::sample
