// SPDX-License-Identifier: GPL-3.0-or-later
// The columns of jobs and follow-ups.
#include "storage/exchange/sheet_parts.h"

namespace milehold::storage {

using core::ColdStart;
using core::ComebackCosts;
using core::FollowUp;
using core::Job;
using sheet::member;
using sheet::personalMember;
using sheet::requiredMember;

namespace {

std::string pathName(const core::RepairPath& path) {
    return path.name;
}
std::string staffName(const core::Staff& staff) {
    return staff.name;
}

std::string writePath(const JobLine& line, const SheetContext& context) {
    return line.job.path ? sheet::nameOrKey(context.shelf.paths, line.job.path->uuid, pathName)
                         : std::string();
}
std::optional<std::string> readPath(JobLine& line, std::string_view cell, const SheetContext& context) {
    const auto* path = sheet::byNameOrKey(context.shelf.paths, cell, pathName);
    if (path == nullptr)
        return "the name of one repair path on the shelf";
    line.job.path = path->id;
    return std::nullopt;
}

std::string writeStaff(const std::optional<core::StaffId>& id, const SheetContext& context) {
    return id ? sheet::nameOrKey(context.staff, id->uuid, staffName) : std::string();
}
std::optional<std::string> readStaff(std::optional<core::StaffId>& id, std::string_view cell,
                                     const SheetContext& context) {
    const auto* person = sheet::byNameOrKey(context.staff, cell, staffName);
    if (person == nullptr)
        return "the name of one person who works in the shop";
    id = person->id;
    return std::nullopt;
}

template <auto Member> SheetColumn<JobLine> staffColumn(std::string_view name) {
    return {name,
            [](const JobLine& line, const SheetContext& context) {
                return writeStaff(line.job.*Member, context);
            },
            [](JobLine& line, std::string_view cell, const SheetContext& context) {
                return readStaff(line.job.*Member, cell, context);
            }};
}

/// A part in a list: number | revision | position | quantity | lot | cost.
std::string writeParts(const JobLine& line, const SheetContext& context) {
    std::vector<std::string> entries;
    for (const auto& fitted : line.job.parts) {
        const auto* part = context.shelf.find(fitted.part);
        entries.push_back(
            joinedList({part == nullptr ? core::toString(fitted.part.uuid) : part->number,
                        part == nullptr ? std::string() : part->revisionLabel,
                        fitted.position ? core::toCode(*fitted.position) : std::string(),
                        std::to_string(fitted.quantity), fitted.lot,
                        core::toDecimal(fitted.cost, core::minorDigits(context.settings.currency))},
                       '|'));
    }
    return guarded(joinedList(entries, ';'));
}

std::optional<std::string> readPart(JobLine& line, const std::string& entry, const SheetContext& context) {
    auto fields = splitList(entry, '|');
    if (!fields || fields->empty() || fields->size() > 6)
        return "parts as number | revision | position | quantity | lot | cost, with ; between them";
    fields->resize(6);
    core::JobPart fitted;
    for (const auto& part : context.shelf.parts)
        if (part.number == fields->at(0) && part.revisionLabel == fields->at(1))
            fitted.part = part.id;
    if (fitted.part.isNull())
        return "parts whose number and revision are on the shelf";
    if (!fields->at(2).empty()) {
        fitted.position = core::positionFromCode(fields->at(2));
        if (!fitted.position)
            return "a part's position as B1-IN, B2-EX or B1-SC";
    }
    if (!fields->at(3).empty()) {
        const auto quantity = wholeFromCell(fields->at(3));
        if (!quantity || *quantity < 1 || *quantity > 1'000'000)
            return "a part's quantity of 1 or more";
        fitted.quantity = static_cast<int>(*quantity);
    }
    fitted.lot = fields->at(4);
    if (!fields->at(5).empty()) {
        const auto cost = core::moneyFromDecimal(fields->at(5), core::minorDigits(context.settings.currency));
        if (!cost)
            return "a part's cost as 1234.50";
        fitted.cost = *cost;
    }
    line.job.parts.push_back(std::move(fitted));
    return std::nullopt;
}

std::optional<std::string> readParts(JobLine& line, std::string_view cell, const SheetContext& context) {
    const auto entries = splitList(unguarded(cell), ';');
    if (!entries)
        return "a list with ; between its entries, quotes closed";
    for (const auto& entry : *entries)
        if (auto expected = readPart(line, entry, context))
            return expected;
    return std::nullopt;
}

/// `P0011; P0021; P0011 after`: read before the work, and after it.
constexpr std::string_view kAfter = " after";

std::string writeCodes(const JobLine& line, const SheetContext&) {
    std::vector<std::string> entries;
    for (const auto& code : line.job.codes)
        entries.push_back(code.after ? code.code + std::string(kAfter) : code.code);
    return joinedList(entries, ';');
}

std::optional<std::string> readCodes(JobLine& line, std::string_view cell, const SheetContext&) {
    const auto entries = splitList(cell, ';');
    if (!entries)
        return "trouble codes with ; between them, those read after the work as P0011 after";
    for (const auto& entry : *entries) {
        const bool after = entry.ends_with(kAfter);
        line.job.codes.push_back({entry.substr(0, entry.size() - (after ? kAfter.size() : 0)), after});
    }
    return std::nullopt;
}

template <auto... Path> SheetColumn<JobLine> job(std::string_view name) {
    return member<JobLine, &JobLine::job, Path...>(name);
}

/// What somebody typed in words: it may name people.
template <auto... Path> SheetColumn<JobLine> words(std::string_view name) {
    return personalMember<JobLine, &JobLine::job, Path...>(name);
}

std::vector<SheetColumn<JobLine>> jobColumns() {
    return {job<&Job::id>("id"),
            job<&Job::number>("number"),
            job<&Job::repairOrder>("repair_order"),
            job<&Job::kind>("kind"),
            member<JobLine, &JobLine::vehicle, &VehicleName::id>("vehicle_id"),
            personalMember<JobLine, &JobLine::vehicle, &VehicleName::vin>("vin"),
            personalMember<JobLine, &JobLine::vehicle, &VehicleName::plate>("plate"),
            {"path", writePath, readPath},
            requiredMember<JobLine, &JobLine::job, &Job::writtenUp>("written_up"),
            job<&Job::started>("started"),
            job<&Job::delivered>("delivered"),
            job<&Job::odometerIn>("odometer_in"),
            job<&Job::odometerOut>("odometer_out"),
            job<&Job::firstSeen>("first_seen"),
            staffColumn<&Job::technician>("technician"),
            staffColumn<&Job::advisor>("advisor"),
            job<&Job::concernGroup>("concern_group"),
            words<&Job::concern>("concern"),
            words<&Job::cause>("cause"),
            words<&Job::correction>("correction"),
            job<&Job::before, &ColdStart::soakHours>("soak_hours_before"),
            job<&Job::before, &ColdStart::rattleTenths>("rattle_tenths_before"),
            job<&Job::after, &ColdStart::soakHours>("soak_hours_after"),
            job<&Job::after, &ColdStart::rattleTenths>("rattle_tenths_after"),
            job<&Job::deliveryCheck>("delivery_check"),
            job<&Job::oilLevel>("oil_level"),
            job<&Job::oilCondition>("oil_condition"),
            job<&Job::oilGrade>("oil_grade"),
            job<&Job::oilPressureKpa>("oil_pressure_kpa"),
            job<&Job::calibrationBefore>("calibration_before"),
            job<&Job::calibrationAfter>("calibration_after"),
            words<&Job::lines>("lines"),
            {"parts", writeParts, readParts},
            {"codes", writeCodes, readCodes},
            job<&Job::hours>("hours"),
            job<&Job::partsPrice>("parts_price"),
            job<&Job::labourPrice>("labour_price"),
            job<&Job::sublet>("sublet"),
            job<&Job::tax>("tax"),
            job<&Job::discount>("discount"),
            job<&Job::warrantyMonths>("warranty_months"),
            job<&Job::warrantyDistance>("warranty_distance"),
            member<JobLine, &JobLine::comebackOf>("comeback_of"),
            job<&Job::comebackDecision>("comeback_decision"),
            staffColumn<&Job::decidedBy>("decided_by"),
            words<&Job::comebackCause>("comeback_cause"),
            job<&Job::payer>("payer"),
            job<&Job::comebackCost>("comeback_cost"),
            words<&Job::claimNumber>("claim_number"),
            job<&Job::claimDeadline>("claim_deadline"),
            words<&Job::voidReason>("void_reason"),
            job<&Job::comebackCosts, &ComebackCosts::labour>("comeback_labour"),
            job<&Job::comebackCosts, &ComebackCosts::parts>("comeback_parts"),
            job<&Job::comebackCosts, &ComebackCosts::rental>("comeback_rental"),
            job<&Job::comebackCosts, &ComebackCosts::towing>("comeback_towing"),
            job<&Job::comebackCosts, &ComebackCosts::goodwill>("comeback_goodwill"),
            job<&Job::comebackCosts, &ComebackCosts::credit>("comeback_credit"),
            job<&Job::claimState>("claim_state"),
            job<&Job::claimAmount>("claim_amount")};
}

} // namespace

template <> const std::vector<SheetColumn<JobLine>>& sheetColumns() {
    static const std::vector<SheetColumn<JobLine>> kColumns = jobColumns();
    return kColumns;
}

template <> const std::vector<SheetColumn<FollowUpLine>>& sheetColumns() {
    using Line = FollowUpLine;
    static const std::vector<SheetColumn<Line>> kColumns = {
        member<Line, &Line::followUp, &FollowUp::id>("id"),
        member<Line, &Line::followUp, &FollowUp::job>("job_id"),
        member<Line, &Line::job>("job"),
        requiredMember<Line, &Line::followUp, &FollowUp::date>("date"),
        requiredMember<Line, &Line::followUp, &FollowUp::outcome>("outcome"),
        member<Line, &Line::followUp, &FollowUp::odometer>("odometer"),
        member<Line, &Line::followUp, &FollowUp::odometerEstimated>("odometer_estimated"),
        member<Line, &Line::followUp, &FollowUp::noiseSince>("noise_since"),
        {"by",
         [](const Line& line, const SheetContext& context) { return writeStaff(line.followUp.by, context); },
         [](Line& line, std::string_view cell, const SheetContext& context) {
             return readStaff(line.followUp.by, cell, context);
         }},
        personalMember<Line, &Line::followUp, &FollowUp::note>("note"),
        member<Line, &Line::followUp, &FollowUp::callOn>("call_on"),
        personalMember<Line, &Line::followUp, &FollowUp::voidReason>("void_reason")};
    return kColumns;
}

} // namespace milehold::storage
