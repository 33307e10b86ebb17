// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample-shop/teller.h"

#include <cmath>

namespace milehold::sample {

using core::ComebackDecision;
using core::ConcernGroup;
using core::FollowUpOutcome;

namespace {
constexpr int kMostRepairs = 5; ///< after so many on one vehicle its owner gives up
} // namespace

void Teller::log(core::Job job, Day day) {
    if (job.kind != core::JobKind::Visit)
        ++story_.repairs;
    if (job.kind != core::JobKind::Elsewhere) {
        lastReading_ = day;
        if (job.odometerOut)
            lastShown_ = *job.odometerOut;
    }
    story_.jobs.push_back({std::move(job), day});
}

void Teller::planEnd(Day first) {
    if (habit_ == FollowUpHabit::Everybody)
        return; // nobody is lost
    sold_ = first + static_cast<Day>(random_.exponential(365.0 * 12));
    scrapped_ = first + 120 + static_cast<Day>(random_.exponential(365.0 * 22));
    lost_ = first + static_cast<Day>(random_.exponential(365.0 * 14));
}

void Teller::begin() {
    const std::array<double, 4> shares = {book_.families[0].weight, book_.families[1].weight,
                                          book_.families[2].weight, book_.families[3].weight};
    family_ = &book_.families[random_.weighted(shares)];
    const double along = std::pow(random_.uniform(), 0.85); // a little busier every year
    Day first =
        workdayFrom(book_.begin + static_cast<Day>(along * static_cast<double>(book_.end - book_.begin - 4)));
    if (inWork_)
        first = book_.end - random_.between(0, 1);
    const int year = static_cast<int>(dateOf(first).year());
    const int oldest = std::max(family_->fromYear, year - 13);
    const int newest = std::max(oldest, std::min(family_->toYear, year - 3));
    const int modelYear = static_cast<int>(random_.between(oldest, newest));
    story_.vehicle = makeVehicle(*family_, modelYear, customer_.id, random_);

    const bool works = customer_.bestTime.empty() && random_.chance(0.06); // a delivery van
    driving_.perDay = std::clamp(random_.lognormal(works ? 24'000 : 11'500, 0.34), 3'200.0, 42'000.0) / 365;
    driving_.perDayLater = driving_.perDay;
    const double age = std::max(1.5, year - modelYear + random_.uniform(0.2, 0.9));
    driving_.start = first;
    driving_.startMiles =
        std::floor(std::min(240'000.0, age * driving_.perDay * 365) * random_.uniform(0.85, 1.1));
    if (random_.chance(0.2)) {
        driving_.changeDay = first + random_.between(90, 1200);
        driving_.perDayLater = std::max(8.0, driving_.perDay * random_.uniform(0.6, 1.6));
    }
    if (habit_ == FollowUpHabit::Typical && random_.chance(0.02)) {
        const Day about = first + random_.between(60, 900);
        driving_.swapDay = workdayFrom(about) + 7 - ((workdayFrom(about) + 4) % 7); // the Sunday after
        driving_.swapOffset =
            static_cast<std::int64_t>(driving_.milesAt(driving_.swapDay)) - random_.between(0, 60'000);
        if (driving_.swapOffset < 1000)
            driving_.swapDay = kNever;
    }
    oil_ = static_cast<OilHabit>(random_.weighted({0.58, 0.31, 0.11}));
    visitor_ = habit_ == FollowUpHabit::Typical && random_.chance(0.22);
    const std::size_t known = family_->calibrationOn(first - 200);
    calibration_ = random_.chance(0.6) && known > 0 ? known - 1 : known;
    planEnd(first);
    lastReading_ = first;
}

PathKey Teller::choosePath(Day day, bool isReturn, PathKey last) {
    const PathKey wanted = wantedPath(day, isReturn, last);
    // Software alone makes sense only where there is newer software.
    const bool nothingNewer = family_->calibrationOn(day) <= calibration_;
    return wanted == PathKey::CalibrationAlone && nothingNewer ? PathKey::ControlValves : wanted;
}

PathKey Teller::wantedPath(Day day, bool isReturn, PathKey last) {
    const auto f = static_cast<std::size_t>(family_ - book_.families.data());
    const bool late = day > book_.begin + 900;
    if (isReturn) {
        if (last == PathKey::CalibrationAlone && random_.chance(0.35))
            return PathKey::ControlValves;
        if (f == kInline)
            return PathKey::BothPhasers;
        if (f == kSingleCam)
            return PathKey::SingleCamSet;
        if (last == PathKey::CalibrationAlone || last == PathKey::ControlValves)
            return random_.chance(0.65) ? PathKey::AllPhasers : PathKey::PhasersAndChain;
        if (last == PathKey::OneBank && random_.chance(0.6))
            return PathKey::AllPhasers;
        return PathKey::PhasersAndChain;
    }
    if (f == kInline || f == kSingleCam) {
        const std::size_t choice =
            random_.weighted({late ? 0.12 : 0.25, late ? 0.22 : 0.3, late ? 0.66 : 0.45});
        if (choice == 0)
            return PathKey::CalibrationAlone;
        if (choice == 1)
            return PathKey::ControlValves;
        return f == kInline ? PathKey::BothPhasers : PathKey::SingleCamSet;
    }
    if (day >= book_.pathSince(PathKey::Screened) && random_.chance(0.14))
        return PathKey::Screened;
    static constexpr std::array<PathKey, 5> kChoices = {PathKey::CalibrationAlone, PathKey::ControlValves,
                                                        PathKey::OneBank, PathKey::AllPhasers,
                                                        PathKey::PhasersAndChain};
    return kChoices[late ? random_.weighted({0.10, 0.16, 0.13, 0.39, 0.22})
                         : random_.weighted({0.22, 0.24, 0.22, 0.20, 0.12})];
}

Teller::Watch Teller::watch(const Repair& repair, Day from) {
    Watch now;
    now.job = repair.job.id;
    now.path = repair.truth.path;
    now.from = from;
    now.milesOut = repair.milesOut;
    now.life = repair.truth.miles;
    now.failed = std::max(from, driving_.dayAt(repair.milesOut + repair.truth.miles));
    const Day gone = std::min({sold_, scrapped_, lost_});
    // Drawn in every case, so that one habit changes nothing but what is seen.
    const double mood = random_.uniform();
    const Day soon = static_cast<Day>(random_.exponential(repair.truth.miles <= 0 ? 9 : 26)) + 2;
    const bool neverHeld = repair.truth.miles <= 0;
    if (habit_ == FollowUpHabit::Everybody) {
        now.returns = workdayFrom(now.failed + soon);
    } else if (mood < (neverHeld ? 0.84 : 0.70) && now.failed < gone) {
        now.returns = workdayFrom(now.failed + soon + (neverHeld ? 3 : 0));
    } else if (mood < 0.88 && now.failed < std::min(sold_, scrapped_)) {
        now.elsewhere = now.failed + soon + 12;
    } // the others live with it
    const bool givenUp = habit_ == FollowUpHabit::Typical && story_.repairs >= kMostRepairs;
    if (givenUp)
        now.returns = now.elsewhere = kNever;
    const bool fourCams = family_->positions.size() == 4;
    if (habit_ == FollowUpHabit::Typical && fourCams && now.path != PathKey::PhasersAndChain &&
        random_.chance(0.02))
        now.replaced = workdayFrom(from + random_.between(200, 1300));
    return now;
}

void Teller::comeBack(const Watch& old, Day day) {
    // Some ring first and can say since when.
    const Day rings = day - random_.between(1, 4);
    const bool swapped = old.failed < driving_.swapDay && driving_.swapDay <= rings;
    if (habit_ == FollowUpHabit::Everybody && !old.told) {
        writeDown(old.job, day, FollowUpOutcome::NoiseBack, driving_.shownOn(day),
                  "Since when exactly, asked.", false, failureReading(old));
    } else if (habit_ == FollowUpHabit::Typical && !old.told && !swapped && workdayFrom(rings) == rings &&
               rings > old.failed && rings > lastReading_ + 1 && failureReading(old) >= lastShown_ &&
               random_.chance(0.45)) {
        writeDown(old.job, rings, FollowUpOutcome::NoiseBack, driving_.shownOn(rings), "Rang to book it in.",
                  false, failureReading(old));
    }
    if (habit_ == FollowUpHabit::Typical && random_.chance(0.06)) {
        core::Job visit = doVisit(sheet(), day);
        visit.concernGroup = ConcernGroup::StartupRattle;
        visit.concern = std::string(random_.pick(kReturnConcerns));
        visit.cause = std::string(random_.pick(kNotReproducedCauses));
        visit.correction = "No work done.";
        visit.labourPrice = visit.partsPrice = visit.tax = {};
        visit.comebackOf = old.job;
        visit.comebackDecision = ComebackDecision::NotReproduced;
        visit.decidedBy = book_.owner;
        log(std::move(visit), day);
        day = workdayFrom(day + random_.between(9, 40));
        if (day > book_.end)
            return;
    }
    RepairPlan plan;
    plan.path = choosePath(day, true, old.path);
    plan.writtenUp = day;
    plan.isReturn = true;
    plan.reliable = habit_ == FollowUpHabit::Everybody;
    Repair repair = doRepair(sheet(), plan);
    if (repair.job.isDelivered())
        decide(repair.job, old, day);
    log(repair.job, day);
    if (!repair.job.isDelivered())
        return;
    calibration_ = repair.calibration;
    story_.lives.push_back(repair.truth);
    next_ = watch(repair, repair.delivered);
}

void Teller::follow(Watch& now) {
    enum class What { Call, Visit, Unrelated };
    struct Event {
        Day day;
        What what;
    };
    std::vector<Event> events;
    for (const Day day : callDays(now))
        events.push_back({day, What::Call});
    for (const Day day : visitDays(now))
        events.push_back({day, What::Visit});
    if (habit_ == FollowUpHabit::Typical && random_.chance(0.04))
        events.push_back({workdayFrom(now.from + random_.between(40, 700)), What::Unrelated});
    std::stable_sort(events.begin(), events.end(),
                     [](const Event& a, const Event& b) { return a.day < b.day; });

    const Day gone = std::min({sold_, scrapped_, lost_});
    Day last = now.from + 5;
    for (const Event& event : events) {
        if (event.day > book_.end || event.day >= std::min(now.returns, now.replaced))
            break;
        if (event.day <= last)
            continue; // one thing at a time
        if (event.what == What::Call) {
            last = event.day;
            if (!call(now, event.day))
                return;
            continue;
        }
        if (event.day >= gone || failedBy(now, event.day) || customer_.doNotCall)
            continue;
        core::Job visit = doVisit(sheet(), event.day);
        if (event.what == What::Unrelated) {
            visit.concernGroup = ConcernGroup::StartupRattle;
            visit.concern = std::string(random_.pick(kReturnConcerns));
            visit.cause = std::string(random_.pick(kUnrelatedCauses));
            visit.correction = "Put right, cold start listened to.";
            visit.comebackOf = now.job;
            visit.comebackDecision = ComebackDecision::Unrelated;
            visit.decidedBy = book_.owner;
            visit.comebackCause = "Not the timing drive";
        }
        log(std::move(visit), event.day);
        last = event.day;
    }
    const Day comes = std::max(now.returns, last + 1);
    if (now.returns < kNever && comes <= book_.end) {
        comeBack(now, workdayFrom(comes));
        return;
    }
    if (now.replaced > std::max(last, lastReading_) && now.replaced <= book_.end &&
        now.replaced < std::min(gone, now.failed)) {
        RepairPlan plan{PathKey::PhasersAndChain, now.replaced, ConcernGroup::OilLeak, false, false};
        Repair repair = doRepair(sheet(), plan);
        log(repair.job, now.replaced);
        if (!repair.job.isDelivered())
            return;
        calibration_ = repair.calibration;
        story_.lives.push_back(repair.truth);
        next_ = watch(repair, repair.delivered);
    }
}

Story Teller::tell() {
    begin();
    Day day = driving_.start;
    std::optional<Watch> now;
    if (!inWork_ && habit_ == FollowUpHabit::Typical && random_.chance(0.03)) {
        const Day done = day - random_.between(120, 700);
        Repair repair =
            repairElsewhere(sheet(), choosePath(done, false, PathKey::CalibrationAlone), done, day);
        log(repair.job, day);
        core::Job visit = doVisit(sheet(), day);
        log(std::move(visit), day);
        story_.lives.push_back(repair.truth);
        now = watch(repair, day);
    } else {
        RepairPlan plan;
        plan.path = choosePath(day, false, PathKey::CalibrationAlone);
        plan.writtenUp = day;
        plan.concern = plan.path == PathKey::PhasersAndChain || plan.path == PathKey::SingleCamSet
                           ? (random_.chance(0.4) ? ConcernGroup::ChainNoise : ConcernGroup::StartupRattle)
                           : (random_.chance(0.22) ? ConcernGroup::TimingCode : ConcernGroup::StartupRattle);
        plan.reliable = habit_ == FollowUpHabit::Everybody;
        Repair repair = doRepair(sheet(), plan);
        log(repair.job, day);
        if (repair.job.isDelivered()) {
            calibration_ = repair.calibration;
            story_.lives.push_back(repair.truth);
            now = watch(repair, repair.delivered);
            if (habit_ == FollowUpHabit::Typical && random_.chance(0.006)) {
                story_.jobs.back().job.voidReason = std::string(random_.pick(kVoidReasons));
                now.reset();
            }
        }
    }
    while (now) {
        next_.reset();
        follow(*now);
        now = next_;
    }
    if (driving_.swapDay <= book_.end && driving_.swapDay < lastReading_) {
        core::OdometerReading swap;
        swap.id = random_.id<core::OdometerId>();
        swap.vehicle = story_.vehicle.id;
        swap.date = dateOf(driving_.swapDay);
        swap.shown = driving_.shownOn(driving_.swapDay);
        swap.source = core::OdometerSource::Typed;
        swap.resetOffset = core::Distance::miles(driving_.swapOffset);
        story_.odometers.push_back(std::move(swap));
    }
    return std::move(story_);
}

Story tellStory(const Catalogue& book, const SampleOptions& options, core::Customer& customer, bool inWork,
                Random& random) {
    return Teller(book, options, customer, inWork, random).tell();
}

} // namespace milehold::sample
