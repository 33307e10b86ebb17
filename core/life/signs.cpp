// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/signs.h"

#include "core/shop/comeback.h"

#include <algorithm>
#include <cmath>
#include <tuple>

namespace milehold::core {

namespace {

constexpr double kDaysAYear = 365.25;

RecordRef refOf(const Job& job) {
    return {RecordRef::Kind::Job, job.id.uuid};
}
RecordRef refOf(const FollowUp& call) {
    return {RecordRef::Kind::FollowUp, call.id.uuid};
}

/// The components whose replacement begins a new life; seals, fasteners and oil are renewed at every turn.
bool isTimingComponent(Component component) {
    switch (component) {
    case Component::Phaser:
    case Component::OilControlValve:
    case Component::ChainSet:
    case Component::Tensioner:
    case Component::Guide:
        return true;
    case Component::Seal:
    case Component::Fastener:
    case Component::Oil:
    case Component::Other:
        return false;
    }
    return false;
}

/// One component at one place, or two whose places are not both written down.
bool isSamePlace(const JobPart& a, const JobPart& b) {
    return !a.position || !b.position || *a.position == *b.position;
}

} // namespace

/// The repair that signs are gathered about.
struct VehicleRecord::About {
    const Job& repair;
    Distance out;     ///< really run at its delivery
    Date decidedOn{}; ///< the latest day on which it returned and a person did not find it a comeback
};

VehicleRecord::VehicleRecord(const VehicleHistory& history, const ShopSettings& rules, Date today,
                             const Shelf* shelf)
    : history_(history), rules_(rules), shelf_(shelf), instruments_(history),
      sightings_(sightings(history, instruments_)), yearly_(yearlyDistance(history, rules, today)) {
    for (const auto& job : history.jobs)
        if (job.kind != JobKind::Visit && job.isDelivered() && !job.isVoid())
            repairs_.push_back(&job);
    const auto runOrZero = [this](const Job& job) { return runOf(job).value_or(Distance()); };
    std::sort(repairs_.begin(), repairs_.end(), [&](const Job* a, const Job* b) {
        return std::tuple(*a->delivered, runOrZero(*a), a->number, a->id) <
               std::tuple(*b->delivered, runOrZero(*b), b->number, b->id);
    });
}

Distance VehicleRecord::runAtDelivery(const Job& repair) const {
    return instruments_.runAt(*repair.delivered,
                              repair.odometerOut.value_or(repair.odometerIn.value_or(Distance())));
}

std::optional<Distance> VehicleRecord::runFirstSeen(const Job& repair) const {
    if (repair.firstSeen)
        return instruments_.runAt(*repair.delivered, *repair.firstSeen);
    for (const auto& seen : sightings_)
        if (!seen.told && seen.date >= *repair.delivered)
            return seen.run;
    return std::nullopt;
}

std::optional<Distance> VehicleRecord::runOf(const Job& job) const {
    if (job.kind == JobKind::Elsewhere && job.odometerOut)
        return instruments_.runAt(job.delivered.value_or(job.writtenUp), *job.odometerOut);
    if (job.odometerIn)
        return instruments_.runAt(job.writtenUp, *job.odometerIn);
    if (job.odometerOut)
        return instruments_.runAt(job.delivered.value_or(job.writtenUp), *job.odometerOut);
    return std::nullopt;
}

/// The furthest that the vehicle was read to have run by a day, and when: it had run at least so far then.
VehicleRecord::Run VehicleRecord::lastRunBy(Date date, const About& about) const {
    Run run{about.out, *about.repair.delivered};
    for (const auto& seen : sightings_) // by date
        if (seen.date >= *about.repair.delivered && seen.date <= date && !seen.estimated &&
            seen.run >= run.distance)
            run = {seen.run, seen.date};
    return run;
}

/// Where nobody knew the odometer: the next one that was read, else the last one and the yearly distance
/// since.
Distance VehicleRecord::runGuessed(Date date, Distance atLeast) const {
    Distance run = atLeast;
    Date on = date;
    for (const auto& seen : sightings_) {
        if (seen.estimated)
            continue;
        if (seen.date >= date && seen.run >= run)
            return seen.run;
        if (seen.run >= run) {
            run = seen.run;
            on = seen.date;
        }
    }
    const double since = static_cast<double>(std::max<std::int64_t>(daysBetween(on, date), 0));
    return run + Distance::fromMetres(
                     std::llround(static_cast<double>(yearly_.perYear.metres()) * since / kDaysAYear));
}

bool VehicleRecord::isLater(const Job& job, const About& about) const {
    if (job.id == about.repair.id || job.isVoid() || !job.writtenUp.ok())
        return false;
    const Date from = *about.repair.delivered;
    if (job.writtenUp != from)
        return job.writtenUp > from;
    // Lines of one repair order share the day; the one that came back the same day is linked, or further on.
    if (job.comebackOf == about.repair.id)
        return true;
    const auto run = runOf(job);
    return run && *run > about.out;
}

bool VehicleRecord::replacedSame(const Job& earlier, const Job& later) const {
    if (earlier.parts.empty() || later.parts.empty())
        return earlier.path && earlier.path == later.path;
    const auto componentOf = [&](const JobPart& fitted) -> std::optional<Component> {
        const PartNumber* part = shelf_ == nullptr ? nullptr : shelf_->find(fitted.part);
        if (part == nullptr)
            return std::nullopt;
        return part->component;
    };
    for (const auto& before : earlier.parts)
        for (const auto& after : later.parts) {
            if (!isSamePlace(before, after))
                continue;
            const auto kindBefore = componentOf(before);
            const auto kindAfter = componentOf(after);
            if (kindBefore && kindAfter ? kindBefore == kindAfter && isTimingComponent(*kindBefore)
                                        : before.part == after.part)
                return true;
        }
    return false;
}

void VehicleRecord::addJob(const Job& job, const About& about, std::vector<Sign>& signs) const {
    if (!isLater(job, about))
        return;
    Sign sign;
    sign.date = job.writtenUp;
    sign.source = refOf(job);
    const bool linked = job.comebackOf == about.repair.id;
    const bool counts =
        countsAsComeback(job.comebackDecision) || job.comebackDecision == ComebackDecision::None;
    const auto run = runOf(job);
    sign.guessed = linked && counts && !run;
    const Run last = run ? Run{*run, job.writtenUp} : lastRunBy(job.writtenUp, about);
    const Distance known = sign.guessed ? runGuessed(job.writtenUp, about.out) : last.distance;
    sign.at = std::max(known - about.out, Distance());
    sign.readOn = last.readOn;
    if (linked && counts) {
        sign.kind = Sign::Kind::Noise;
        signs.push_back(sign);
        return;
    }
    if (job.kind == JobKind::Elsewhere) {
        if (!job.isDelivered())
            return;
        sign.kind = Sign::Kind::End;
        sign.end = OtherEnd::RepairedElsewhere;
        signs.push_back(sign);
        return;
    }
    sign.kind = Sign::Kind::Contact;
    signs.push_back(sign);
    const bool unrelated = job.comebackDecision == ComebackDecision::Unrelated;
    const bool undecided = linked && job.comebackDecision == ComebackDecision::NotReproduced;
    const bool complained = isSameConcern(about.repair.concernGroup, job.concernGroup) && !unrelated;
    const bool replaced = job.isDelivered() && replacedSame(about.repair, job);
    if (complained && replaced) {
        // The noise of that job was put down to a later repair, or nobody has decided yet.
        const bool attributed = job.comebackOf && counts;
        sign.kind = attributed ? Sign::Kind::End : Sign::Kind::Covered;
        sign.end = attributed ? OtherEnd::Replaced : OtherEnd::None;
        if (attributed)
            sign.at = Distance(); // not known quiet up to there: the life ends where it was last quiet
        signs.push_back(sign);
    } else if (replaced && !complained) {
        sign.kind = Sign::Kind::End;
        sign.end = OtherEnd::Replaced;
        signs.push_back(sign);
    } else if (!complained && !undecided && (unrelated || rules_.quietVisitCounts)) {
        sign.kind = Sign::Kind::Quiet;
        signs.push_back(sign);
    }
}

void VehicleRecord::addCall(const FollowUp& call, const About& about, std::vector<Sign>& signs) const {
    if (call.isVoid() || !call.date.ok() || call.date < *about.repair.delivered)
        return;
    const auto subject = std::find_if(history_.jobs.begin(), history_.jobs.end(),
                                      [&](const Job& job) { return job.id == call.job; });
    if (subject == history_.jobs.end() || subject->isVoid())
        return;
    const bool own = call.job == about.repair.id;
    Sign sign;
    sign.date = call.date;
    sign.source = refOf(call);
    // What nobody read on the instrument moves no known distance; an end and a noise stand where they were
    // told.
    const bool read = call.odometer && !call.odometerEstimated;
    const Run last =
        read ? Run{instruments_.runAt(call.date, *call.odometer), call.date} : lastRunBy(call.date, about);
    sign.at = std::max(last.distance - about.out, Distance());
    sign.readOn = last.readOn;
    switch (call.outcome) {
    case FollowUpOutcome::Quiet:
        sign.kind = own || isSameConcern(about.repair.concernGroup, subject->concernGroup)
                        ? Sign::Kind::Quiet
                        : Sign::Kind::Contact;
        break;
    case FollowUpOutcome::NoiseBack:
        // What a person decided when the vehicle was here outweighs what was told on the phone before.
        if (own && !(about.decidedOn.ok() && about.decidedOn >= call.date)) {
            sign.kind = Sign::Kind::Noise;
            if (call.noiseSince && !call.odometerEstimated)
                sign.exact =
                    std::max(instruments_.runAt(call.date, *call.noiseSince) - about.out, Distance());
            if (call.odometer && call.odometerEstimated) {
                // The far end of an interval at most.
                sign.guessed = !call.noiseSince;
                sign.at = std::max(instruments_.runAt(call.date, *call.odometer) - about.out, Distance());
            } else if (!call.odometer && !call.noiseSince) {
                sign.guessed = true;
                sign.at = std::max(runGuessed(call.date, about.out) - about.out, Distance());
            } else if (!call.odometer) {
                sign.at = std::max(instruments_.runAt(call.date, *call.noiseSince) - about.out, Distance());
            }
        }
        break;
    case FollowUpOutcome::Sold:
        sign.kind = Sign::Kind::Sold;
        break;
    case FollowUpOutcome::Scrapped:
    case FollowUpOutcome::RepairedElsewhere:
        sign.kind = Sign::Kind::End;
        sign.end =
            call.outcome == FollowUpOutcome::Scrapped ? OtherEnd::Scrapped : OtherEnd::RepairedElsewhere;
        break;
    case FollowUpOutcome::DoNotCall:
        sign.kind = Sign::Kind::DoNotCall;
        break;
    case FollowUpOutcome::CallLater:
        break;
    case FollowUpOutcome::NoAnswer:
        return;
    }
    signs.push_back(sign);
}

std::vector<Sign> VehicleRecord::signsOf(const Job& repair) const {
    About about{repair, runAtDelivery(repair)};
    for (const auto& job : history_.jobs)
        if (job.comebackOf == repair.id && isLater(job, about) &&
            (job.comebackDecision == ComebackDecision::Unrelated ||
             job.comebackDecision == ComebackDecision::NotReproduced) &&
            (!about.decidedOn.ok() || job.writtenUp > about.decidedOn))
            about.decidedOn = job.writtenUp;
    std::vector<Sign> signs;
    for (const auto& job : history_.jobs)
        addJob(job, about, signs);
    for (const auto& call : history_.followUps)
        addCall(call, about, signs);
    for (const auto& seen : sightings_)
        if (seen.source.kind == RecordRef::Kind::Odometer && seen.date > *repair.delivered)
            signs.push_back({Sign::Kind::Contact, seen.date, std::max(seen.run - about.out, Distance()),
                             seen.date, std::nullopt, false, OtherEnd::None, seen.source});
    std::sort(signs.begin(), signs.end(), [](const Sign& a, const Sign& b) {
        return std::tuple(a.date, a.kind, a.at, a.source.kind, a.source.id) <
               std::tuple(b.date, b.kind, b.at, b.source.kind, b.source.id);
    });
    return signs;
}

} // namespace milehold::core
