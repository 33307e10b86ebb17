// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/job.h"
#include "core/shop/vehicle.h"
#include "storage/database/text.h"
#include "storage/records/record_table.h"

namespace milehold::storage {

using core::ColdStart;
using core::ComebackCosts;
using core::FollowUp;
using core::Job;
using core::JobCode;
using core::JobPart;

namespace {

ListTable<Job> jobParts() {
    return {.field = "parts",
            .table = "job_part",
            .owner = "job_id",
            .columns = {"part_id", "position", "lot", "quantity", "cost"},
            .readColumns = 5,
            .get =
                [](const Job& job) {
                    std::vector<std::vector<Value>> rows;
                    for (const auto& part : job.parts) {
                        rows.push_back({encode(part.part), encode(part.position), encode(part.lot),
                                        encode(part.quantity), encode(part.cost)});
                    }
                    return rows;
                },
            .add =
                [](Job& job, const std::vector<Value>& row) {
                    JobPart& part = job.parts.emplace_back();
                    return decode(row[0], part.part) && decode(row[1], part.position) &&
                           decode(row[2], part.lot) && decode(row[3], part.quantity) &&
                           decode(row[4], part.cost);
                }};
}

ListTable<Job> jobCodes() {
    return {.field = "codes",
            .table = "job_code",
            .owner = "job_id",
            .columns = {"code", "after"},
            .readColumns = 2,
            .get =
                [](const Job& job) {
                    std::vector<std::vector<Value>> rows;
                    for (const auto& code : job.codes)
                        rows.push_back({encode(code.code), encode(code.after)});
                    return rows;
                },
            .add =
                [](Job& job, const std::vector<Value>& row) {
                    JobCode& code = job.codes.emplace_back();
                    return decode(row[0], code.code) && decode(row[1], code.after);
                }};
}

} // namespace

template <> const RecordTable<Job>& recordTable() {
    static const RecordTable<Job> kTable{
        "job",
        {column<Job, &Job::number>("number"),
         column<Job, &Job::repairOrder>("repair_order"),
         {"repair_order_key", [](const Job& job) { return textValue(codeKey(job.repairOrder)); }},
         column<Job, &Job::kind>("kind"),
         column<Job, &Job::vehicle>("vehicle_id"),
         column<Job, &Job::path>("path_id"),
         column<Job, &Job::writtenUp>("written_up"),
         column<Job, &Job::started>("started"),
         column<Job, &Job::delivered>("delivered"),
         column<Job, &Job::odometerIn>("odometer_in"),
         column<Job, &Job::odometerOut>("odometer_out"),
         column<Job, &Job::firstSeen>("first_seen"),
         column<Job, &Job::technician>("technician_id"),
         column<Job, &Job::advisor>("advisor_id"),
         column<Job, &Job::concernGroup>("concern_group"),
         personalColumn<Job, &Job::concern>("concern"),
         personalColumn<Job, &Job::cause>("cause"),
         personalColumn<Job, &Job::correction>("correction"),
         column<Job, &Job::before, &ColdStart::soakHours>("soak_hours_before"),
         column<Job, &Job::before, &ColdStart::rattleTenths>("rattle_tenths_before"),
         column<Job, &Job::after, &ColdStart::soakHours>("soak_hours_after"),
         column<Job, &Job::after, &ColdStart::rattleTenths>("rattle_tenths_after"),
         column<Job, &Job::deliveryCheck>("delivery_check"),
         column<Job, &Job::oilLevel>("oil_level"),
         column<Job, &Job::oilCondition>("oil_condition"),
         column<Job, &Job::oilGrade>("oil_grade"),
         column<Job, &Job::oilPressureKpa>("oil_pressure_kpa"),
         column<Job, &Job::calibrationBefore>("calibration_before"),
         column<Job, &Job::calibrationAfter>("calibration_after"),
         column<Job, &Job::hours>("hours"),
         column<Job, &Job::partsPrice>("parts_price"),
         column<Job, &Job::labourPrice>("labour_price"),
         column<Job, &Job::sublet>("sublet"),
         column<Job, &Job::tax>("tax"),
         column<Job, &Job::discount>("discount"),
         column<Job, &Job::warrantyMonths>("warranty_months"),
         column<Job, &Job::warrantyDistance>("warranty_distance"),
         column<Job, &Job::comebackOf>("comeback_of"),
         column<Job, &Job::comebackDecision>("comeback_decision"),
         column<Job, &Job::decidedBy>("decided_by"),
         personalColumn<Job, &Job::comebackCause>("comeback_cause"),
         column<Job, &Job::payer>("payer"),
         column<Job, &Job::comebackCost>("comeback_cost"),
         column<Job, &Job::claimNumber>("claim_number"),
         column<Job, &Job::claimDeadline>("claim_deadline"),
         personalColumn<Job, &Job::voidReason>("void_reason"),
         column<Job, &Job::comebackCosts, &ComebackCosts::labour>("comeback_labour"),
         column<Job, &Job::comebackCosts, &ComebackCosts::parts>("comeback_parts"),
         column<Job, &Job::comebackCosts, &ComebackCosts::rental>("comeback_rental"),
         column<Job, &Job::comebackCosts, &ComebackCosts::towing>("comeback_towing"),
         column<Job, &Job::comebackCosts, &ComebackCosts::goodwill>("comeback_goodwill"),
         column<Job, &Job::comebackCosts, &ComebackCosts::credit>("comeback_credit"),
         column<Job, &Job::claimState>("claim_state"),
         column<Job, &Job::claimAmount>("claim_amount")},
        {textList<Job, &Job::lines>("lines", "job_line", "job_id", "line"), jobParts(), jobCodes()}};
    return kTable;
}

template <> const RecordTable<FollowUp>& recordTable() {
    static const RecordTable<FollowUp> kTable{
        "follow_up",
        {column<FollowUp, &FollowUp::job>("job_id"), column<FollowUp, &FollowUp::date>("date"),
         column<FollowUp, &FollowUp::outcome>("outcome"), column<FollowUp, &FollowUp::odometer>("odometer"),
         column<FollowUp, &FollowUp::odometerEstimated>("odometer_estimated"),
         column<FollowUp, &FollowUp::noiseSince>("noise_since"), column<FollowUp, &FollowUp::by>("staff_id"),
         personalColumn<FollowUp, &FollowUp::note>("note"), column<FollowUp, &FollowUp::callOn>("call_on"),
         personalColumn<FollowUp, &FollowUp::voidReason>("void_reason")}};
    return kTable;
}

} // namespace milehold::storage
