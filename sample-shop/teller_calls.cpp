// SPDX-License-Identifier: GPL-3.0-or-later
// What the shop hears from outside: calls, and who pays when a vehicle is back.
#include "sample-shop/teller.h"

#include <utility>

namespace milehold::sample {

using core::ComebackDecision;
using core::FollowUpOutcome;

/// What a customer tells of the odometer: many a one in round numbers.
core::Distance Teller::spoken(Day day) {
    const core::Distance real = driving_.shownOn(day);
    if (habit_ != FollowUpHabit::Typical || !random_.chance(0.35))
        return real;
    const core::Distance rounded = core::Distance::miles(real.whole(core::DistanceUnit::Miles) / 500 * 500);
    const bool swapped = lastReading_ < driving_.swapDay && driving_.swapDay <= day;
    return !swapped && rounded >= lastShown_ ? rounded : real;
}

std::vector<Day> Teller::callDays(const Watch& now) {
    std::vector<Day> days;
    if (habit_ == FollowUpHabit::OnlyUnhappy)
        return days;
    if (habit_ == FollowUpHabit::Everybody) {
        days.push_back(book_.end);
        return days;
    }
    const Day since = book_.begin + 365; // before that nobody thought of calling
    static constexpr std::array<std::pair<int, double>, 7> kRounds = {
        {{35, 0.50}, {180, 0.40}, {365, 0.62}, {730, 0.60}, {1095, 0.56}, {1460, 0.52}, {1825, 0.48}}};
    for (const auto& [after, share] : kRounds) {
        const Day day = workdayFrom(now.from + after + random_.between(0, 40));
        if (random_.chance(share) && day >= since)
            days.push_back(day);
    }
    const Day catchUp = workdayFrom(since + random_.between(0, 70));
    if (now.from < since - 60 && random_.chance(0.60))
        days.push_back(catchUp);
    return days;
}

std::vector<Day> Teller::visitDays(const Watch& now) {
    std::vector<Day> days;
    if (!visitor_)
        return days;
    for (Day day = now.from + random_.between(60, 420); day < book_.end; day += random_.between(190, 520))
        days.push_back(workdayFrom(day));
    return days;
}

void Teller::writeDown(core::JobId job, Day day, FollowUpOutcome outcome,
                       std::optional<core::Distance> odometer, Text note, bool estimated,
                       std::optional<core::Distance> since) {
    core::FollowUp row;
    row.id = random_.id<core::FollowUpId>();
    row.job = job;
    row.date = dateOf(day);
    row.outcome = outcome;
    row.odometer = odometer;
    row.odometerEstimated = odometer.has_value() && estimated;
    row.noiseSince = since;
    row.by = book_.advisors[random_.below(2)];
    row.note = std::string(note);
    if (outcome == FollowUpOutcome::CallLater)
        row.callOn = dateOf(workdayFrom(day + 7));
    if (odometer && !estimated) {
        lastShown_ = *odometer;
        lastReading_ = day;
    }
    story_.followUps.push_back(std::move(row));
}

bool Teller::call(Watch& now, Day day) {
    if (customer_.doNotCall)
        return true;
    const bool certain = habit_ == FollowUpHabit::Everybody;
    if (!certain && random_.chance(0.02)) {
        writeDown(now.job, day, FollowUpOutcome::DoNotCall, {}, "Does not want calls.");
        customer_.doNotCall = true;
        return true;
    }
    if (!certain && (day >= lost_ || random_.chance(0.18))) {
        const bool later = day < lost_ && random_.chance(0.12);
        writeDown(now.job, day, later ? FollowUpOutcome::CallLater : FollowUpOutcome::NoAnswer, {},
                  later ? Text("Driving, call next week.") : random_.pick(kNoAnswerNotes));
        return true;
    }
    if (day >= scrapped_) {
        const bool swapped = driving_.swapDay <= day;
        const bool quiet = scrapped_ <= now.failed && scrapped_ > lastReading_ && !swapped;
        writeDown(now.job, day, FollowUpOutcome::Scrapped,
                  quiet ? std::optional(driving_.shownOn(scrapped_)) : std::nullopt, "Totaled.");
        return false;
    }
    if (day >= sold_) {
        writeDown(now.job, day, FollowUpOutcome::Sold, {}, "Sold it.");
        return false;
    }
    if (day >= now.elsewhere) {
        const bool readable =
            now.elsewhere > lastReading_ && !(now.elsewhere < driving_.swapDay && driving_.swapDay <= day);
        writeDown(now.job, day, FollowUpOutcome::RepairedElsewhere,
                  readable ? std::optional(driving_.shownOn(now.elsewhere)) : std::nullopt,
                  random_.pick(kElsewhereNotes));
        return false;
    }
    core::Distance odometer = spoken(day);
    if (failedBy(now, day)) {
        if (now.told)
            return true;
        now.told = true;
        const bool swapped = now.failed < driving_.swapDay && driving_.swapDay <= day;
        const bool knows = !swapped && (certain || random_.chance(0.55)) && failureReading(now) >= lastShown_;
        if (knows && failureReading(now) > odometer) { // a round number would contradict it
            odometer = driving_.shownOn(day);
        }
        writeDown(now.job, day, FollowUpOutcome::NoiseBack,
                  certain || random_.chance(0.8) ? std::optional(odometer) : std::nullopt,
                  random_.pick(kNoiseNotes), false,
                  knows ? std::optional(failureReading(now)) : std::nullopt);
        if (random_.chance(0.75) && now.elsewhere >= kNever)
            now.returns = std::min(now.returns, workdayFrom(day + random_.between(2, 14)));
        return true;
    }
    // Who does not know gets the book's own estimate, flagged as one.
    const bool told = certain || random_.chance(0.86);
    writeDown(now.job, day, FollowUpOutcome::Quiet, odometer, random_.pick(kQuietNotes), !told);
    return true;
}

void Teller::decide(core::Job& job, const Watch& old, Day day) {
    job.comebackOf = old.job;
    static constexpr std::array<ComebackDecision, 4> kDecisions = {
        ComebackDecision::SameConcern, ComebackDecision::OtherPart, ComebackDecision::Workmanship,
        ComebackDecision::WrongDiagnosis};
    const bool light = old.path == PathKey::CalibrationAlone || old.path == PathKey::ControlValves;
    job.comebackDecision =
        kDecisions[random_.weighted({0.66, 0.14, light ? 0.02 : 0.08, light ? 0.28 : 0.06})];
    job.decidedBy = book_.owner;
    switch (job.comebackDecision) {
    case ComebackDecision::OtherPart:
        job.comebackCause = "Another phaser than the one replaced";
        break;
    case ComebackDecision::Workmanship:
        job.comebackCause = "Bolt torque; shop's error";
        break;
    case ComebackDecision::WrongDiagnosis:
        job.comebackCause = "The pin was loose all along";
        break;
    default:
        job.comebackCause = oil_ == OilHabit::Never ? "Oil neglected" : "Part worn again";
        break;
    }
    const bool inWarranty = day - old.from < 730 && driving_.milesAt(day) - old.milesOut < 24'000;
    const bool claim =
        inWarranty && job.comebackDecision == ComebackDecision::SameConcern && !light && random_.chance(0.6);
    job.payer = !inWarranty ? (random_.chance(0.75) ? core::Payer::Customer : core::Payer::Shared)
                : claim     ? core::Payer::Supplier
                            : (random_.chance(0.7) ? core::Payer::Shop : core::Payer::Shared);
    if (job.payer == core::Payer::Customer)
        return;
    core::ComebackCosts& costs = job.comebackCosts;
    costs.labour = {job.hours.hundredths * std::int64_t{68}}; // 68.00 an hour at cost
    for (const core::JobPart& part : job.parts)
        costs.parts = costs.parts + part.cost;
    if (job.payer == core::Payer::Shared) {
        costs.labour = {costs.labour.minor / 2};
        costs.parts = {costs.parts.minor / 2};
        job.discount = job.discount + core::Money{job.labourPrice.minor / 2};
    } else {
        job.discount = job.labourPrice + job.partsPrice + job.tax;
        costs.rental = {day % 3 == 0 ? 8'400 : 0};
        costs.towing = {day % 5 == 0 ? 9'500 : 0};
        costs.goodwill = {day % 7 == 0 ? 5'000 : 0};
    }
    if (claim)
        fileClaim(job, day);
}

/// A supplier takes a few weeks over a claim, pays most of what it takes on, and turns some down.
void Teller::fileClaim(core::Job& job, Day day) {
    const std::int64_t number = random_.between(20'000, 79'999);
    job.claimDeadline = core::addDays(dateOf(day), 30);
    job.claimAmount = core::Money{(job.comebackCosts.labour + job.comebackCosts.parts).minor * 3 / 5};
    job.claimState = core::ClaimState::ToFile;
    if (day + 10 >= book_.end)
        return;
    job.claimState = number % 12 == 0 ? core::ClaimState::Lapsed : core::ClaimState::Filed;
    if (job.claimState == core::ClaimState::Lapsed)
        return;
    job.claimNumber = "LD-" + std::to_string(number);
    if (day + 45 >= book_.end)
        return;
    job.claimState = number % 7 == 0 ? core::ClaimState::Denied : core::ClaimState::Credited;
    if (job.claimState == core::ClaimState::Credited)
        job.comebackCosts.credit = *job.claimAmount;
}

} // namespace milehold::sample
