// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-shop/job_sheet.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <span>

namespace milehold::sample {
namespace {

using core::CamRole;
using core::ConcernGroup;
using core::DeliveryCheck;

struct Fitting {
    const PartKit* kit;
    std::optional<core::Position> position;
    int quantity;
    bool decides; ///< its revision and lot change how long the repair lasts
};

const PartKit& phaserFor(const Catalogue& book, PathKey path, CamRole cam) {
    const bool intake = cam == CamRole::Intake;
    if (path == PathKey::Screened)
        return intake ? book.screenedIntake : book.screenedExhaust;
    if (path == PathKey::BothPhasers)
        return intake ? book.inlineIntake : book.inlineExhaust;
    if (path == PathKey::SingleCamSet)
        return book.singleCam;
    return intake ? book.intakePhaser : book.exhaustPhaser;
}

std::vector<Fitting> fittingsOf(const SheetContext& context, PathKey path) {
    const Catalogue& book = context.book;
    std::vector<Fitting> fittings;
    if (path == PathKey::CalibrationAlone)
        return fittings;
    const auto bank = static_cast<std::uint8_t>(context.random.between(1, 2));
    int phasers = 0;
    for (const core::Position& position : context.family.positions) {
        if (path == PathKey::ControlValves) {
            fittings.push_back({&book.valve, position, 1, true});
            continue;
        }
        if (path == PathKey::OneBank && position.bank != bank)
            continue;
        fittings.push_back({&phaserFor(book, path, position.cam), position, 1, true});
        ++phasers;
    }
    if (phasers > 0) {
        fittings.push_back({&book.bolts, std::nullopt, phasers, false});
        fittings.push_back({&book.seal, std::nullopt, 1, false});
    }
    if (path == PathKey::PhasersAndChain) {
        fittings.push_back({&book.chainSet, std::nullopt, 1, false});
        fittings.push_back({&book.tensioner, std::nullopt, 2, false});
        fittings.push_back({&book.guides, std::nullopt, 1, false});
    }
    if (path == PathKey::SingleCamSet)
        fittings.push_back({&book.singleCamChain, std::nullopt, 1, false});
    fittings.push_back({&book.oil, std::nullopt, static_cast<int>(context.random.between(5, 7)), false});
    return fittings;
}

std::string lotOf(Day day, Random& random) {
    const core::Date date = dateOf(day);
    const auto newYear = std::chrono::sys_days(date.year() / std::chrono::January / 1);
    const auto week = (std::chrono::sys_days(date) - newYear).count() / 7 + 1;
    char text[32];
    std::snprintf(text, sizeof text, "%02d%02d-%d", static_cast<int>(date.year()) % 100,
                  static_cast<int>(week), static_cast<int>(random.between(1, 3)));
    return text;
}

double lotFactor(const Catalogue& book, const RevisionKit& part, Day lotDay) {
    const Day age = book.end - lotDay;
    for (const BadLot& bad : kBadLots)
        if (bad.number == part.number && bad.revision == part.revision && age <= bad.fromDaysBeforeEnd &&
            age >= bad.toDaysBeforeEnd)
            return bad.factor;
    return 1.0;
}

/// Fits the parts and returns what they multiply the scale by.
double fitParts(const SheetContext& context, core::Job& job, PathKey path, Day day) {
    Random& random = context.random;
    double factor = 1;
    const bool oldStock = random.chance(0.12);
    const Day bought = day - random.between(4, 45);
    std::int64_t price = 0;
    for (const Fitting& fitting : fittingsOf(context, path)) {
        const RevisionKit& current = fitting.kit->on(day);
        const bool recent = day - current.introduced < 240;
        const RevisionKit& part = oldStock && recent ? fitting.kit->oldStockOn(day) : current;
        core::JobPart row;
        row.part = part.id;
        row.position = fitting.position;
        row.quantity = fitting.quantity;
        row.cost = {part.cost * fitting.quantity};
        price += part.price * fitting.quantity;
        const Day lotDay = std::max(part.introduced, bought);
        if (fitting.decides) {
            row.lot = lotOf(lotDay, random);
            factor = std::min(factor, revisionFactor(part.number, part.revision) *
                                          lotFactor(context.book, part, lotDay));
        }
        job.parts.push_back(std::move(row));
    }
    job.partsPrice = {price};
    return factor;
}

double readOil(const SheetContext& context, core::Job& job) {
    Random& random = context.random;
    job.oilLevel = random.chance(context.oil == OilHabit::Good ? 0.08 : 0.4) ? core::OilLevel::Low
                                                                             : core::OilLevel::Good;
    job.oilGrade = random.chance(0.85) ? "5W-30" : (random.chance(0.5) ? "0W-20" : "10W-30");
    switch (context.oil) {
    case OilHabit::Good:
        job.oilCondition = core::OilCondition::Clean;
        job.oilPressureKpa = static_cast<int>(random.between(130, 215));
        return kOilClean;
    case OilHabit::Late:
        job.oilCondition = core::OilCondition::Dark;
        job.oilPressureKpa = static_cast<int>(random.between(105, 180));
        return kOilDark;
    case OilHabit::Never:
        break;
    }
    job.oilCondition = core::OilCondition::Sludge;
    job.oilPressureKpa = static_cast<int>(random.between(70, 125));
    return kOilSludge;
}

void readCodes(const SheetContext& context, core::Job& job) {
    static constexpr std::array<Text, 6> kBankOne = {"P0011", "P0014", "P0016", "P0017", "P000A", "P000B"};
    static constexpr std::array<Text, 6> kBankTwo = {"P0021", "P0024", "P0018", "P0019", "P000C", "P000D"};
    const bool second =
        job.parts.empty() ? false : context.family.positions.back().bank == 2 && context.random.chance(0.4);
    const std::size_t first = context.random.below(kBankOne.size());
    job.codes.push_back({std::string(second ? kBankTwo[first] : kBankOne[first]), false});
    if (context.random.chance(0.3)) {
        const std::size_t next = (first + 1) % kBankOne.size();
        job.codes.push_back({std::string(second ? kBankTwo[next] : kBankOne[next]), false});
    }
}

Text concernFor(const RepairPlan& plan, Random& random) {
    if (plan.isReturn)
        return random.pick(kReturnConcerns);
    if (plan.concern == ConcernGroup::TimingCode)
        return random.pick(kCodeConcerns);
    if (plan.concern == ConcernGroup::ChainNoise)
        return random.pick(kChainConcerns);
    if (plan.concern == ConcernGroup::OilLeak)
        return "Oil spots under the front of the engine.";
    return random.pick(kRattleConcerns);
}

Text causeFor(const RepairPlan& plan, Random& random) {
    if (plan.concern == ConcernGroup::OilLeak)
        return "Front cover leaks at the corner; chain and guides worn, renewed while open.";
    switch (plan.path) {
    case PathKey::CalibrationAlone:
        return random.pick(kSoftwareCauses);
    case PathKey::ControlValves:
        return random.pick(kValveCauses);
    case PathKey::PhasersAndChain:
    case PathKey::SingleCamSet:
        return random.pick(kChainCauses);
    default:
        return random.pick(kPhaserCauses);
    }
}

std::string correctionFor(PathKey path, Random& random) {
    const auto say = [&](std::initializer_list<Text> ways) {
        return std::string(*(ways.begin() + static_cast<std::ptrdiff_t>(random.below(ways.size()))));
    };
    switch (path) {
    case PathKey::CalibrationAlone:
        return say({"Loaded the newest calibration, relearned cam stops.",
                    "Programmed the engine computer with battery support, cleared codes, relearned."});
    case PathKey::ControlValves:
        return say({"New control valves, bores and screens cleaned, oil and filter.",
                    "Replaced valves, flushed the screens, fresh oil."});
    case PathKey::OneBank:
        return say({"Both phasers of the noisy bank replaced, new bolts, cover resealed.",
                    "Replaced the bank's phasers, timing checked twice by hand."});
    case PathKey::Screened:
        return say({"Four screened phasers, new bolts, cover resealed.",
                    "Fitted the screened phasers on both banks, cam stops relearned."});
    case PathKey::PhasersAndChain:
        return say({"Phasers, chains, tensioners and guides replaced, pickup screen cleaned.",
                    "Complete timing drive renewed, turned twice by hand, cover resealed."});
    case PathKey::SingleCamSet:
        return say({"Both phasers and chain set, pan dropped and cleaned.",
                    "Chains, guides and phasers renewed, pickup screen clear."});
    case PathKey::AllPhasers:
    case PathKey::BothPhasers:
        break;
    }
    return say({"All phasers replaced, new bolts, cover resealed, turned twice by hand.",
                "Replaced every phaser, relearned, no codes after.",
                "New phasers with new bolts, turned twice by hand, sealed."});
}

void priceJob(const SheetContext& context, core::Job& job, const core::RepairPath& path, Day day) {
    Random& random = context.random;
    const auto year = (day - context.book.begin) / 365;
    const std::int64_t rate = 12'800 + 600 * year; // cents an hour, a little more every year
    job.hours = {
        static_cast<std::int32_t>(std::lround(path.hours.hundredths * random.uniform(0.82, 1.28) / 10) * 10)};
    job.labourPrice = {path.hours.hundredths * rate / 100};
    job.tax = {(job.partsPrice.minor * 7 + 50) / 100};
    if (random.chance(0.09))
        job.discount = {job.labourPrice.minor * random.between(1, 2) / 20};
    if (random.chance(0.04))
        job.sublet = {random.between(45, 120) * 100};
}

/// The cold start before delivery, or why there was none.
void checkDelivery(const SheetContext& context, core::Job& job, const LifeTruth& truth, bool reliable) {
    Random& random = context.random;
    const bool neverHeld = truth.miles <= 0;
    const double skipped = reliable ? 0.0 : (neverHeld ? 0.18 : 0.05);
    if (random.chance(skipped)) {
        job.deliveryCheck = DeliveryCheck::NotDone;
        job.correction += random.pick(kHurriedEndings);
        return;
    }
    job.after.soakHours = static_cast<int>(random.between(9, 16));
    job.deliveryCheck = neverHeld ? DeliveryCheck::Noisy : DeliveryCheck::Quiet;
    job.after.rattleTenths = neverHeld ? static_cast<int>(random.between(6, 32)) : 0;
    job.correction += neverHeld ? random.pick(kNoisyEndings) : random.pick(kQuietEndings);
}

} // namespace

Repair doRepair(const SheetContext& context, const RepairPlan& plan) {
    Random& random = context.random;
    const Catalogue& book = context.book;
    Repair repair;
    core::Job& job = repair.job;
    job.id = random.id<core::JobId>();
    job.kind = core::JobKind::Repair;
    job.vehicle = context.vehicle.id;
    job.writtenUp = dateOf(plan.writtenUp);
    job.concernGroup = plan.concern;
    job.concern = std::string(concernFor(plan, random));
    const double milesIn = context.driving.milesAt(plan.writtenUp);
    job.odometerIn = context.driving.shown(milesIn, plan.writtenUp);
    job.advisor = book.advisors[random.below(book.advisors.size())];
    if (plan.concern != ConcernGroup::OilLeak) {
        job.before.soakHours = static_cast<int>(random.between(8, 60));
        job.before.rattleTenths = static_cast<int>(random.between(8, 48));
    }
    const double oilFactor = readOil(context, job);
    const std::size_t before = context.calibration;
    job.calibrationBefore = context.family.calibrations[before].code;

    const Day started = workdayFrom(plan.writtenUp + random.between(0, 2));
    const bool quick = plan.path == PathKey::CalibrationAlone || plan.path == PathKey::ControlValves;
    repair.delivered = workdayFrom(started + (quick ? random.between(1, 2) : random.between(1, 5)));
    if (started <= book.end)
        job.started = dateOf(started);
    const std::size_t active = started < book.end - 480 ? 4 : 3; // the fourth has left since
    job.technician = book.technicians[random.below(active)];
    const auto pathIndex = static_cast<std::size_t>(plan.path);
    job.path = book.paths[pathIndex];
    if (repair.delivered > book.end) { // stands in the shop: nothing is fitted or charged yet
        if (plan.concern == ConcernGroup::TimingCode)
            readCodes(context, job);
        return repair;
    }

    const core::RepairPath& path = book.shelf.paths[pathIndex];
    const double partFactor = fitParts(context, job, plan.path, started);
    if (plan.concern == ConcernGroup::TimingCode)
        readCodes(context, job);
    repair.calibration = before;
    const double updates = plan.path == PathKey::CalibrationAlone ? 1.0
                           : plan.path == PathKey::ControlValves  ? 0.5
                                                                  : 0.8;
    if (random.chance(updates))
        repair.calibration = std::max(before, context.family.calibrationOn(started));
    job.calibrationAfter = context.family.calibrations[repair.calibration].code;
    job.lines = path.lines;
    job.cause = std::string(causeFor(plan, random));
    if (context.oil == OilHabit::Never)
        job.cause += random.pick(kSludgeRemarks);
    job.correction = correctionFor(plan.path, random);
    if (repair.calibration > before && plan.path != PathKey::CalibrationAlone)
        job.correction += " Loaded " + job.calibrationAfter + ".";
    priceJob(context, job, path, started);
    job.warrantyMonths = quick ? 12 : 24;
    job.warrantyDistance = core::Distance::miles(quick ? 12'000 : 24'000);
    job.delivered = dateOf(repair.delivered);
    repair.milesOut = std::floor(milesIn) + static_cast<double>(random.between(1, 9));
    job.odometerOut = context.driving.shown(repair.milesOut, repair.delivered);

    const PathLaw& law = lawOf(plan.path);
    LifeTruth& truth = repair.truth;
    truth = {job.id, plan.path, law.neverHeld, law.shape, 0, 0, 0};
    truth.scale = law.scale * partFactor * oilFactor * kCalibrationFactors[repair.calibration];
    const bool held = !random.chance(law.neverHeld);
    const double miles = random.weibull(law.shape, truth.scale); // drawn either way: the stream stays in step
    truth.miles = held ? miles : 0;
    checkDelivery(context, job, truth, plan.reliable);
    return repair;
}

core::Job doVisit(const SheetContext& context, Day day) {
    Random& random = context.random;
    core::Job job;
    job.id = random.id<core::JobId>();
    job.kind = core::JobKind::Visit;
    job.vehicle = context.vehicle.id;
    job.writtenUp = dateOf(day);
    job.started = dateOf(day);
    job.delivered = dateOf(day);
    job.odometerIn = context.driving.shownOn(day);
    job.odometerOut = job.odometerIn;
    job.concernGroup = ConcernGroup::None;
    const std::size_t what = random.below(kVisitConcerns.size());
    job.concern = std::string(kVisitConcerns[what]);
    job.correction = std::string(kVisitCorrections[what]);
    job.technician = context.book.technicians[random.below(3)];
    job.advisor = context.book.advisors[random.below(2)];
    job.hours = {static_cast<std::int32_t>(random.between(3, 16) * 10)};
    job.labourPrice = {job.hours.hundredths * 130};
    job.partsPrice = {random.between(8, 240) * 100};
    job.tax = {(job.partsPrice.minor * 7 + 50) / 100};
    return job;
}

Repair repairElsewhere(const SheetContext& context, PathKey path, Day delivered, Day firstSeen) {
    Random& random = context.random;
    Repair repair;
    core::Job& job = repair.job;
    job.id = random.id<core::JobId>();
    job.kind = core::JobKind::Elsewhere;
    job.vehicle = context.vehicle.id;
    job.path = context.book.paths[static_cast<std::size_t>(path)];
    job.writtenUp = dateOf(delivered);
    job.delivered = dateOf(delivered);
    repair.milesOut = std::floor(context.driving.milesAt(delivered));
    job.odometerOut = context.driving.shown(repair.milesOut, delivered);
    job.firstSeen = context.driving.shownOn(firstSeen);
    job.concern = "Done by another shop, the owner has the bill.";
    repair.delivered = delivered;
    repair.calibration = context.calibration;
    const PathLaw& law = lawOf(path);
    LifeTruth& truth = repair.truth;
    truth = {job.id, path, law.neverHeld, law.shape, 0, 0, 0};
    const double oil = context.oil == OilHabit::Good   ? kOilClean
                       : context.oil == OilHabit::Late ? kOilDark
                                                       : kOilSludge;
    truth.scale = law.scale * oil * kCalibrationFactors[context.calibration];
    truth.beyond = std::floor(context.driving.milesAt(firstSeen)) - repair.milesOut;
    truth.miles = random.weibull(law.shape, truth.scale, truth.beyond); // it came in quiet
    return repair;
}

} // namespace milehold::sample
