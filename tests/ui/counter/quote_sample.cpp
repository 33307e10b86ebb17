// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/ui/counter/quote_sample.h"

#include "tests/ui/office/office_sample.h"

#include <cmath>
#include <random>

namespace milehold::tests {

namespace {

constexpr core::Date kToday(std::chrono::year(2031), std::chrono::month(4), std::chrono::day(9));

struct PathStory {
    std::string name;
    int price = 0; ///< whole units of the currency
    int hours = 0; ///< tenths
    GroupStory lives;
    double unseenShare = 0.2; ///< of the lives that hold
    std::vector<std::string> cautions;
    bool stale = false;
};

core::LifeRecord record(unsigned number, core::RepairPathId path, core::EngineFamilyId family, double miles,
                        bool back, double unseen) {
    core::LifeRecord told;
    told.life.job = jobId(number);
    told.life.vehicle.uuid = jobId(number + 500'000).uuid;
    told.life.path = path;
    told.life.known = core::Distance::miles(std::llround(miles));
    told.life.unseen = core::Distance::miles(std::llround(unseen));
    told.life.state = back ? core::LifeState::CameBack : core::LifeState::Holding;
    told.life.yearly = {core::Distance::miles(12'000), core::YearlySource::Readings, 4};
    told.life.repairedOn = core::addDays(kToday, -1500 + number % 900);
    told.life.lastKnownOn = core::addDays(kToday, -200);
    told.jobNumber = number;
    told.family = family;
    told.modelYear = 2021;
    return told;
}

QuoteSample sampleOf(const std::vector<PathStory>& stories) {
    QuoteSample sample;
    sample.settings.name = "Harbour Lane Timing";
    sample.settings.warrantyMonths = 24;
    sample.settings.warrantyDistance = core::Distance::miles(24'000);
    sample.settings.warrantyTerms = "It covers parts and labour of this repair, not wear of other parts.";
    core::EngineFamily family;
    family.id.uuid = jobId(900'001).uuid;
    family.name = "Larch 2.4";
    sample.shelf.families.push_back(family);
    std::mt19937 random(7);
    std::uniform_real_distribution<double> even(0, 1);
    unsigned number = 0;
    unsigned pathNumber = 900'100;
    for (const PathStory& told : stories) {
        core::RepairPath path;
        path.id.uuid = jobId(++pathNumber).uuid;
        path.name = told.name;
        path.price.minor = told.price * 100LL;
        path.hours.hundredths = told.hours * 10;
        path.cautions = told.cautions;
        if (told.stale) {
            path.freshness.checkedOn = core::addDays(kToday, -500);
            path.freshness.checkAgainBy = core::addDays(kToday, -40);
        }
        core::PathApplies applies;
        applies.id.uuid = jobId(++pathNumber).uuid;
        applies.family = family.id;
        path.applies.push_back(applies);
        sample.shelf.paths.push_back(path);
        for (const double miles : told.lives.cameBack) {
            sample.lives.push_back(record(++number, path.id, family.id, miles, true, 0));
        }
        for (const double miles : told.lives.holding) {
            const double unseen = even(random) < told.unseenShare ? 30'000 * even(random) : 0;
            sample.lives.push_back(record(++number, path.id, family.id, miles, false, unseen));
        }
    }
    ui::VehicleFound found;
    found.id.uuid = jobId(910'001).uuid;
    found.vin = "7XQLR24T0M8410236";
    found.plate = "KLM 204";
    found.maker = "Orbin";
    found.model = "Vale";
    found.modelYear = 2021;
    found.customer = "Ida Kestrel";
    sample.vehicle.vehicle = found;
    sample.vehicle.family = family.id;
    sample.vehicle.modelYear = 2021;
    sample.vehicle.calibration = "L24-0417";
    sample.vehicle.yearly = {core::Distance::miles(11'400), core::YearlySource::Readings, 7};
    sample.vehicle.lastOdometer = core::Distance::miles(88'346);
    sample.vehicle.lastOdometerOn = core::addDays(kToday, -3);
    sample.choices.families = {{family.id, family.name}};
    sample.choices.calibrations = {"L24-0417", "L24-0512"};
    sample.choices.defaultYearly = sample.settings.defaultYearly;
    return sample;
}

} // namespace

core::Quote QuoteSample::quote(std::int64_t horizon) const {
    core::QuoteOptions options;
    options.horizon = horizon;
    options.dataDate = kToday;
    const core::QuoteSubject subject{vehicle.family, vehicle.modelYear, vehicle.calibration, vehicle.yearly,
                                     vehicle.running};
    const auto made = core::makeQuote(lives, subject, shelf, settings, options);
    return made ? *made : core::Quote();
}

QuoteSample usualQuote() {
    const std::vector<std::string> cautions = {
        "Never turn the engine with the timing unlocked: the valves can meet the pistons.",
        "Keep the battery supported while the engine computer is programmed.",
        "Fasteners of the phasers are used once; tighten them as the maker says."};
    return sampleOf(
        {{"Calibration only", 240, 12, story("", 64, 0.45, 80'000, 5), 0.2, {cautions[1]}, true},
         {"Phasers alone", 1'680, 78, story("", 71, 0.24, 105'000, 3), 0.3, cautions, false},
         {"Phasers with the chain set", 2'940, 142, story("", 52, 0.06, 110'000, 9), 0.2, cautions, false},
         {"Oil control valves", 410, 21, GroupStory{"", {}, {9'000, 14'500}, 0}, 0.5, {}, false}});
}

QuoteSample hugeQuote() {
    std::vector<PathStory> stories;
    for (unsigned i = 0; i < 7; ++i) {
        PathStory told;
        told.name = "Phaser set with intermediate guide rails and both tensioners, revision " +
                    std::to_string(i) + ", with the chain set of the second source";
        told.price = static_cast<int>(12'345 + 1'000 * i);
        told.hours = 1'234;
        told.lives = story("", static_cast<int>(4 + 160 * i), 0.1 + 0.05 * i, 190'000, 31 + i);
        for (int line = 0; line < 9; ++line) {
            told.cautions.push_back(
                "Where the work can hurt someone, defer to the maker's service information, to "
                "local rules and to licensed practice; this is caution number " +
                std::to_string(line + 1) + ".");
        }
        told.stale = i % 2 == 0;
        stories.push_back(told);
    }
    QuoteSample sample = sampleOf(stories);
    sample.vehicle.vehicle->model = "Vale Estate Long Wheelbase Anniversary";
    sample.vehicle.vehicle->customer = "Northern Fells Volunteer Ambulance and Rescue Association";
    return sample;
}

} // namespace milehold::tests
