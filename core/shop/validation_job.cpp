// SPDX-License-Identifier: GPL-3.0-or-later
// The rules of a job.
#include "core/shop/applies.h"
#include "core/shop/comeback.h"
#include "core/shop/finding_list.h"
#include "core/shop/odometer_check.h"
#include "core/shop/trouble_code.h"
#include "core/shop/validation.h"

#include <algorithm>
#include <string>

namespace milehold::core {

namespace {

constexpr int kShortSoakHours = 4;
constexpr int kLongRattleTenths = 600;
constexpr int kHighPressureKpa = 1000;
constexpr std::int32_t kLongJobHundredths = 10'000;

/// The vehicle's history as it was without this job.
VehicleHistory without(const VehicleHistory& history, JobId id) {
    VehicleHistory others = history;
    std::erase_if(others.jobs, [&](const Job& other) { return other.id == id; });
    return others;
}

void checkDates(const Job& job, FindingList& found) {
    if (!job.writtenUp.ok()) {
        found.error("writtenUp", "Enter the day on which the job was written up.");
        return;
    }
    if (job.started && (!job.started->ok() || *job.started < job.writtenUp))
        found.error("started", "Work starts on or after the day of the write-up.");
    if (!job.delivered)
        return;
    if (!job.delivered->ok())
        found.error("delivered", "The day of delivery is not a date.");
    else if (*job.delivered < job.writtenUp)
        found.error("delivered", "The delivery is before the write-up.");
    else if (job.started && job.started->ok() && *job.delivered < *job.started)
        found.error("delivered", "The delivery is before work started.");
}

void checkOdometers(const Job& job, const VehicleHistory& others, FindingList& found) {
    if (job.odometerIn && *job.odometerIn < Distance())
        found.error("odometerIn", "An odometer cannot be negative.");
    if (job.odometerOut && *job.odometerOut < Distance())
        found.error("odometerOut", "An odometer cannot be negative.");
    const bool elsewhere = job.kind == JobKind::Elsewhere;
    if (job.isDelivered()) {
        if (!job.odometerIn && job.kind == JobKind::Repair)
            found.error("odometerIn", "A delivered repair needs the odometer at arrival.");
        if (!job.odometerIn && job.kind == JobKind::Visit)
            found.warning("odometerIn",
                          "Without the odometer this visit says nothing about earlier repairs.");
        if (!job.odometerOut && job.kind != JobKind::Visit)
            found.error("odometerOut", elsewhere ? "Enter the odometer at which the repair was made."
                                                 : "A delivered repair needs the odometer at delivery.");
    }
    if (!job.writtenUp.ok() || (job.delivered && !job.delivered->ok()))
        return;
    const Instruments instruments(others);
    const auto seen = sightings(others, instruments);
    const Date out = job.delivered.value_or(job.writtenUp);
    if (job.odometerIn && !elsewhere)
        checkDistance({"odometerIn", job.writtenUp, instruments.runAt(job.writtenUp, *job.odometerIn)}, seen,
                      found);
    if (job.odometerOut)
        checkDistance({"odometerOut", out, instruments.runAt(out, *job.odometerOut), false, elsewhere}, seen,
                      found);
    if (job.odometerIn && job.odometerOut) {
        const Distance driven =
            instruments.runAt(out, *job.odometerOut) - instruments.runAt(job.writtenUp, *job.odometerIn);
        if (driven < Distance())
            found.error("odometerOut",
                        "The odometer at delivery is less than at arrival. Correct one of them, or "
                        "record that the instrument was replaced.");
        else if (driven > Distance::miles(250 * std::max<std::int64_t>(daysBetween(job.writtenUp, out), 1)))
            found.warning("odometerOut",
                          "More than 250 miles (402 km) a day were driven while the vehicle was here.");
    }
    if (elsewhere && job.firstSeen && job.odometerOut && *job.firstSeen < *job.odometerOut)
        found.error("firstSeen", "The vehicle was first seen here before that repair was made.");
    if (elsewhere && !job.firstSeen)
        found.warning("firstSeen",
                      "Without the odometer at which it was first seen here this repair may not count.");
}

void checkColdStart(const std::string& field, const ColdStart& start, FindingList& found) {
    if (start.soakHours && *start.soakHours < 0)
        found.error(field + ".soakHours", "Hours of standing cannot be negative.");
    else if (start.soakHours && *start.soakHours < kShortSoakHours)
        found.hint(field + ".soakHours", "After less than 4 hours of standing a rattle may not show.");
    if (start.rattleTenths && *start.rattleTenths < 0)
        found.error(field + ".rattleTenths", "Seconds of rattle cannot be negative.");
    else if (start.rattleTenths && *start.rattleTenths > kLongRattleTenths)
        found.warning(field + ".rattleTenths",
                      "A start-up rattle of more than a minute is unusual; please check.");
}

void checkWork(const Job& job, const Shelf& shelf, const Vehicle& vehicle, FindingList& found) {
    if (job.isDelivered() && job.kind == JobKind::Repair) {
        if (!job.path)
            found.error("path", "Choose the repair path before delivery.");
        if (!job.technician)
            found.error("technician", "Say who did the work before delivery.");
        if (job.deliveryCheck == DeliveryCheck::NotDone)
            found.warning("deliveryCheck",
                          "No cold start was made before delivery: whether the repair held then is "
                          "not known.");
    }
    if (job.path) {
        const RepairPath* path = shelf.find(*job.path);
        if (path == nullptr)
            found.error("path", "This repair path is not on the shelf.");
        else if (vehicle.family && job.kind == JobKind::Repair &&
                 !appliesTo(*path, vehicle.family, vehicle.modelYear, job.calibrationBefore, shelf))
            found.warning("path",
                          "This path is not listed for this engine family, model year and calibration.");
    }
    checkColdStart("before", job.before, found);
    checkColdStart("after", job.after, found);
    const bool rattled = job.after.rattleTenths && *job.after.rattleTenths > 0;
    if (job.deliveryCheck == DeliveryCheck::Quiet && rattled)
        found.error("deliveryCheck", "The delivery check says quiet, but seconds of rattle were entered.");
    if (job.deliveryCheck == DeliveryCheck::Noisy && job.after.rattleTenths == 0)
        found.error("deliveryCheck", "The delivery check says noisy, but 0 seconds of rattle were entered.");
    if (job.kind == JobKind::Repair && job.concernGroup == ConcernGroup::None)
        found.hint("concernGroup", "Without a concern a comeback is recognised by any timing concern.");
    if (job.oilPressureKpa && *job.oilPressureKpa < 0)
        found.error("oilPressureKpa", "An oil pressure cannot be negative.");
    else if (job.oilPressureKpa && *job.oilPressureKpa > kHighPressureKpa)
        found.warning("oilPressureKpa",
                      "More than 1,000 kPa (145 psi) at hot idle is unusual; please check.");
    for (std::size_t i = 0; i < job.codes.size(); ++i)
        if (const auto code = troubleCodeFromText(job.codes[i].code); !code || *code != job.codes[i].code)
            found.error(entryField("codes", i, "code"),
                        "A trouble code is a letter P, C, B or U, a digit 0 to 3 and three of 0-9 and A-F.");
}

void checkParts(const Job& job, const Shelf& shelf, const EngineFamily* family, FindingList& found) {
    for (std::size_t i = 0; i < job.parts.size(); ++i) {
        const JobPart& fitted = job.parts[i];
        found.checkPartEntry(i, fitted.part, fitted.quantity, shelf);
        if (fitted.cost < Money{})
            found.error(entryField("parts", i, "cost"), "A cost cannot be negative.");
        if (fitted.position && family != nullptr &&
            std::find(family->positions.begin(), family->positions.end(), *fitted.position) ==
                family->positions.end())
            found.warning(entryField("parts", i, "position"),
                          "This engine family has no position " + toCode(*fitted.position) + ".");
        for (std::size_t k = 0; k < i && fitted.position; ++k)
            if (job.parts[k].part == fitted.part && job.parts[k].position == fitted.position &&
                job.parts[k].lot == fitted.lot)
                found.warning(entryField("parts", i, "part"),
                              "The same part is entered twice at one position.");
    }
    const auto logged = std::find_if(shelf.calibrations.begin(), shelf.calibrations.end(),
                                     [&](const Calibration& c) { return c.code == job.calibrationAfter; });
    if (job.calibrationAfter.empty() || logged == shelf.calibrations.end())
        return;
    if (const Calibration* newest = shelf.find(newestOf(shelf, logged->id)); newest->id != logged->id)
        found.warning("calibrationAfter", logged->code + " is superseded by " + newest->code + ".");
}

void checkMoney(const Job& job, FindingList& found) {
    const std::pair<const char*, Money> amounts[] = {{"partsPrice", job.partsPrice},
                                                     {"labourPrice", job.labourPrice},
                                                     {"sublet", job.sublet},
                                                     {"tax", job.tax},
                                                     {"discount", job.discount},
                                                     {"comebackCost", job.comebackCost},
                                                     {"comebackCosts.labour", job.comebackCosts.labour},
                                                     {"comebackCosts.parts", job.comebackCosts.parts},
                                                     {"comebackCosts.rental", job.comebackCosts.rental},
                                                     {"comebackCosts.towing", job.comebackCosts.towing},
                                                     {"comebackCosts.goodwill", job.comebackCosts.goodwill},
                                                     {"comebackCosts.credit", job.comebackCosts.credit},
                                                     {"claimAmount", job.claimAmount.value_or(Money{})}};
    for (const auto& [field, amount] : amounts)
        if (amount < Money{})
            found.error(field, "This amount cannot be negative.");
    if (job.comebackTotal() < Money{})
        found.warning("comebackCosts.credit", "The credit is more than the comeback cost.");
    if (job.total() < Money{})
        found.warning("discount", "The discount is more than the whole price.");
    if (job.hours.hundredths < 0)
        found.error("hours", "Hours cannot be negative.");
    else if (job.hours.hundredths > kLongJobHundredths)
        found.warning("hours", "More than 100 hours on one job is unusual; please check.");
    if (job.warrantyMonths && *job.warrantyMonths < 0)
        found.error("warrantyMonths", "The months of warranty cannot be negative.");
    if (job.warrantyDistance && *job.warrantyDistance < Distance())
        found.error("warrantyDistance", "The distance of warranty cannot be negative.");
}

void checkComeback(const Job& job, const VehicleHistory& others, FindingList& found) {
    if (job.comebackOf) {
        const auto earlier = std::find_if(others.jobs.begin(), others.jobs.end(),
                                          [&](const Job& other) { return other.id == *job.comebackOf; });
        if (*job.comebackOf == job.id)
            found.error("comebackOf", "A job cannot be its own comeback.");
        else if (earlier == others.jobs.end())
            found.error("comebackOf", "A comeback points to an earlier job on the same vehicle.");
        else if (earlier->isVoid())
            found.error("comebackOf", "The job that it points to is voided.");
        else if (earlier->kind == JobKind::Visit)
            found.error("comebackOf",
                        "A comeback points to a timing repair, not to a visit for something else.");
        else if (!earlier->isDelivered() || *earlier->delivered > job.writtenUp)
            found.error("comebackOf",
                        "A comeback points to a job that was delivered before this one was written up.");
    } else if (countsAsComeback(job.comebackDecision)) {
        found.error("comebackOf", "Choose the earlier job that did not hold.");
    } else if (job.comebackDecision == ComebackDecision::None && job.kind != JobKind::Elsewhere &&
               proposeComebackOf(job, others)) {
        const std::string message =
            "This vehicle was repaired here for the same concern before: say whether that "
            "repair came back.";
        if (job.isDelivered())
            found.warning("comebackOf", message);
        else
            found.hint("comebackOf", message);
    }
    if (job.comebackDecision == ComebackDecision::Unrelated && isBlank(job.comebackCause))
        found.error("comebackCause", "Say why this is not a comeback.");
    if (job.comebackDecision != ComebackDecision::None && !job.decidedBy)
        found.warning("decidedBy", "Say who decided this.");
}

/// Source: common practice of parts claims, no published source.
void checkClaim(const Job& job, FindingList& found) {
    if (job.claimDeadline && !job.claimDeadline->ok())
        found.error("claimDeadline", "The deadline of the claim is not a date.");
    const bool isNamed = job.claimDeadline || job.claimAmount || !isBlank(job.claimNumber);
    switch (job.claimState) {
    case ClaimState::None:
        if (isNamed)
            found.warning("claimState", "Say where the claim stands: nobody watches one without a state.");
        break;
    case ClaimState::ToFile:
        if (!job.claimDeadline)
            found.warning("claimDeadline", "Enter the day by which the claim must be filed.");
        break;
    case ClaimState::Filed:
        if (isBlank(job.claimNumber))
            found.hint("claimNumber", "Enter the number under which the supplier keeps the claim.");
        break;
    case ClaimState::Credited:
        if (job.comebackCosts.credit == Money{})
            found.warning("comebackCosts.credit", "Enter what the supplier credited.");
        else if (job.claimAmount && job.comebackCosts.credit > *job.claimAmount)
            found.warning("comebackCosts.credit", "More was credited than was claimed; please check.");
        break;
    case ClaimState::Denied:
    case ClaimState::Lapsed:
        break;
    }
}

} // namespace

Findings validate(const Job& job, const Shelf& shelf, const VehicleHistory& history) {
    FindingList found;
    // Voiding must always be possible, whatever else is wrong with the job.
    if (job.isVoid()) {
        found.needText("voidReason", job.voidReason, "Say why the job is voided.");
        return found.take();
    }
    if (job.vehicle.isNull())
        found.error("vehicle", "Choose the vehicle.");
    else if (!history.vehicle.id.isNull() && history.vehicle.id != job.vehicle)
        found.error("vehicle", "The job is of another vehicle than its history.");
    const VehicleHistory others = without(history, job.id);
    const auto stored = std::find_if(history.jobs.begin(), history.jobs.end(),
                                     [&](const Job& other) { return other.id == job.id; });
    if (stored != history.jobs.end() && stored->isDelivered() && !job.isDelivered())
        found.warning("delivered",
                      "This job had been delivered; a delivered job is voided rather than taken back.");
    checkDates(job, found);
    checkOdometers(job, others, found);
    const EngineFamily* family = history.vehicle.family ? shelf.find(*history.vehicle.family) : nullptr;
    checkWork(job, shelf, history.vehicle, found);
    checkParts(job, shelf, family, found);
    checkMoney(job, found);
    checkComeback(job, others, found);
    checkClaim(job, found);
    return found.take();
}

} // namespace milehold::core
