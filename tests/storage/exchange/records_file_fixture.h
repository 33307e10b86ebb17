// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "storage/exchange/records_file.h"
#include "storage/make_id.h"
#include "tests/storage/support/shop_fixture.h"

#include <sstream>

namespace milehold::test {

using core::Distance;
using core::ErrorCode;
using storage::ImportReport;
using storage::RecordFile;

class RecordsFile : public ShopTest {
protected:
    std::string exported(RecordFile file, bool anonymous = false) {
        std::ostringstream out;
        EXPECT_OK(storage::exportRecords(shop(), file, out, {anonymous}));
        return out.str();
    }
    core::Result<ImportReport> import(RecordFile file, std::string_view text,
                                      storage::ImportOptions options = {}) {
        return storage::importRecords(shop(), file, storage::bytesOf(text), "book.csv", options);
    }
    /// A second shop with the same shelf and people, and nobody's records.
    void startOver() {
        ASSERT_OK(shop().together([&]() -> core::Result<void> {
            const auto jobs = shop().jobs().rows({});
            for (const auto& job : *jobs) {
                const auto calls = shop().followUps().ofJob(job.id);
                for (const auto& call : *calls)
                    EXPECT_OK(shop().followUps().remove(call.id, call.revision));
            }
            return {};
        }));
        ASSERT_OK(shop().close());
        letGo();
        runOnFile(
            "DROP TRIGGER job_delivered_is_kept; DELETE FROM odometer; DELETE FROM follow_up; DELETE FROM "
            "job; "
            "DELETE FROM vehicle; DELETE FROM customer; DELETE FROM job_line; DELETE FROM job_part; DELETE "
            "FROM "
            "job_code; DELETE FROM customer_phone; DELETE FROM customer_email; DELETE FROM customer_word; "
            "UPDATE counter SET next = 1;"
            "CREATE TRIGGER job_delivered_is_kept BEFORE DELETE ON job WHEN OLD.delivered IS NOT NULL BEGIN "
            "SELECT RAISE(ABORT, 'rule: a delivered job is voided, never deleted'); END;");
        reopen();
    }
    /// Records of every kind with text that trips careless code.
    void fill() {
        customer.name = "=HYPERLINK(\"x\")";
        customer.phones = {"+1 (555) 010-4477", "a;b \"1\""};
        customer.note = oddText();
        customer = *shop().customers().save(customer);
        vehicle.plate = "-AB 12";
        vehicle.note = "two\r\nlines, and a comma";
        vehicle = *shop().vehicles().save(vehicle);
        core::Job first = finishedJob(day(2030, 1, 15), 30'000);
        first.repairOrder = "@17";
        first.odometerOut = Distance::fromMetres(first.odometerIn->metres() + 777); // no whole mile
        first.concern = oddText();
        first.lines = {"plain", oddText(), "", "a; b"};
        first.parts.push_back({part.id, std::nullopt, "lot | 7; \"x\"", 3, {1}});
        first.codes = {{"P0011", false}, {"P0011", true}, {"P0021", false}};
        first.before = {12, 31};
        first.hours = {845};
        first.partsPrice = {44'001};
        first.warrantyDistance = Distance::kilometres(40'000);
        first = saved(first);
        core::Job second = finishedJob(day(2031, 4, 9), 50'000);
        second.comebackOf = first.id;
        second.comebackDecision = core::ComebackDecision::SameConcern;
        second.decidedBy = technician.id;
        second.comebackCosts = {{12'750}, {8'801}, {4'500}, {1'200}, {999}, {6'000}};
        second.comebackCost = {77};
        second.claimState = core::ClaimState::Credited;
        second.claimAmount = core::Money{7'000};
        second.claimDeadline = day(2031, 6, 1);
        second = saved(second);
        const core::Job third = saved(finishedJob(day(2031, 4, 10), 50'100));
        EXPECT_OK(shop().jobs().voidJob(third.id, third.revision, "typed twice, \"really\""));
        core::FollowUp call;
        call.job = second.id;
        call.date = day(2031, 4, 20);
        call.outcome = core::FollowUpOutcome::Quiet;
        call.odometer = Distance::miles(50'900);
        call.odometerEstimated = true;
        call.by = technician.id;
        call.note = oddText();
        EXPECT_OK(shop().followUps().save(call));
        core::FollowUp promised;
        promised.job = second.id;
        promised.date = day(2031, 4, 22);
        promised.outcome = core::FollowUpOutcome::CallLater;
        promised.callOn = day(2031, 7, 1);
        EXPECT_OK(shop().followUps().save(promised));
        promised.date = day(2031, 4, 21);
        promised.voidReason = "=wrong, \"customer\"";
        EXPECT_OK(shop().followUps().save(promised));
        core::OdometerReading reading;
        reading.vehicle = vehicle.id;
        reading.date = day(2030, 6, 1);
        reading.shown = Distance::miles(33'333);
        EXPECT_OK(shop().vehicles().saveOdometer(reading));
    }
    static constexpr RecordFile kAll[] = {RecordFile::Customers, RecordFile::Vehicles, RecordFile::Odometers,
                                          RecordFile::Jobs, RecordFile::FollowUps};
};

/// Revisions are counted anew where a record is imported.
inline core::VehicleHistory withoutRevisions(core::VehicleHistory history) {
    history.vehicle.revision = 0;
    for (auto& job : history.jobs)
        job.revision = 0;
    for (auto& call : history.followUps)
        call.revision = 0;
    for (auto& reading : history.odometers)
        reading.revision = 0;
    return history;
}

} // namespace milehold::test
