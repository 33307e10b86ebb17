// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/finding.h"
#include "core/shop/validation.h"
#include "core/shop/vin.h"
#include "sample-shop/sample_shop.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

namespace milehold::sample {
namespace {

SampleShop madeWith(const SampleOptions& options) {
    auto shop = generate(options);
    EXPECT_TRUE(shop.has_value());
    return shop ? std::move(*shop) : SampleShop{};
}

std::string firstError(const core::Findings& findings) {
    for (const core::Finding& finding : findings)
        if (finding.severity == core::Severity::Error)
            return finding.field + ": " + finding.message;
    return {};
}

TEST(SampleShop, IsTheSameForTheSameSeed) {
    const SampleShop a = madeWith({.jobs = 300, .seed = 7});
    const SampleShop b = madeWith({.jobs = 300, .seed = 7});
    EXPECT_EQ(a.jobs, b.jobs);
    EXPECT_EQ(a.vehicles, b.vehicles);
    EXPECT_EQ(a.customers, b.customers);
    EXPECT_EQ(a.followUps, b.followUps);
    EXPECT_EQ(a.odometers, b.odometers);
    EXPECT_EQ(a.shelf.parts, b.shelf.parts);
    EXPECT_EQ(a.truth.lives, b.truth.lives);
}

TEST(SampleShop, IsAnotherForAnotherSeed) {
    const SampleShop a = madeWith({.jobs = 60, .seed = 1});
    const SampleShop b = madeWith({.jobs = 60, .seed = 2});
    EXPECT_NE(a.jobs, b.jobs);
    EXPECT_NE(a.vehicles, b.vehicles);
}

TEST(SampleShop, HasAboutAsManyTimingRepairsAsAskedFor) {
    const SampleShop shop = madeWith({.jobs = 400});
    const auto repairs = std::count_if(shop.jobs.begin(), shop.jobs.end(),
                                       [](const core::Job& job) { return job.kind != core::JobKind::Visit; });
    EXPECT_GE(repairs, 400);
    EXPECT_LE(repairs, 405); // the last vehicle's own repairs
}

TEST(SampleShop, RefusesNoJobsAndADateThatIsNone) {
    EXPECT_FALSE(generate({.jobs = 0}).has_value());
    SampleOptions options;
    options.endsOn = core::Date{std::chrono::year{2031}, std::chrono::February, std::chrono::day{30}};
    EXPECT_FALSE(generate(options).has_value());
}

TEST(SampleShop, SpansSixYearsAndNothingLiesAfterItsLastDay) {
    const SampleShop shop = madeWith({.jobs = 400});
    core::Date first = shop.endsOn;
    for (const core::Job& job : shop.jobs) {
        if (job.kind != core::JobKind::Elsewhere)
            first = std::min(first, job.writtenUp);
        EXPECT_LE(job.writtenUp, shop.endsOn);
        EXPECT_LE(job.delivered.value_or(job.writtenUp), shop.endsOn);
    }
    for (const core::FollowUp& row : shop.followUps)
        EXPECT_LE(row.date, shop.endsOn);
    EXPECT_GT(core::daysBetween(first, shop.endsOn), 365 * 5);
    EXPECT_LT(core::daysBetween(first, shop.endsOn), 365 * 6 + 3);
}

TEST(SampleShop, KeepsEveryRuleOfTheRecords) {
    for (const std::uint64_t seed : {1U, 2U, 3U}) {
        const SampleShop shop = madeWith({.jobs = 1500, .seed = seed});
        EXPECT_EQ(firstError(core::validate(shop.settings)), "");
        for (const auto& row : shop.staff)
            EXPECT_EQ(firstError(core::validate(row)), "");
        for (const auto& row : shop.shelf.families)
            EXPECT_EQ(firstError(core::validate(row)), "");
        for (const auto& row : shop.shelf.parts)
            EXPECT_EQ(firstError(core::validate(row, shop.shelf)), "");
        for (const auto& row : shop.shelf.calibrations)
            EXPECT_EQ(firstError(core::validate(row, shop.shelf)), "");
        for (const auto& row : shop.shelf.paths)
            EXPECT_EQ(core::validate(row, shop.shelf), core::Findings{});
        for (const auto& row : shop.shelf.notes)
            EXPECT_EQ(firstError(core::validate(row)), "");
        for (const auto& row : shop.customers)
            EXPECT_EQ(firstError(core::validate(row)), "");
        for (const auto& history : histories(shop)) {
            EXPECT_EQ(core::validate(history.vehicle), core::Findings{}) << history.vehicle.vin;
            for (const auto& job : history.jobs)
                EXPECT_EQ(firstError(core::validate(job, shop.shelf, history)), "") << job.number;
            for (const auto& row : history.followUps)
                EXPECT_EQ(firstError(core::validate(row, history)), "");
            for (const auto& row : history.odometers)
                EXPECT_EQ(firstError(core::validate(row, history)), "");
        }
    }
}

TEST(SampleShop, GivesEveryVehicleAVinOfItsOwn) {
    const SampleShop shop = madeWith({.jobs = 3000});
    std::set<std::string> vins;
    for (const core::Vehicle& vehicle : shop.vehicles) {
        EXPECT_EQ(core::vinCheckDigit(vehicle.vin), vehicle.vin[8]);
        EXPECT_EQ(core::vinModelYear(vehicle.vin), vehicle.modelYear);
        EXPECT_EQ(vehicle.vin[0], '0'); // a maker's code that is given to nobody
        vins.insert(vehicle.vin);
    }
    EXPECT_EQ(vins.size(), shop.vehicles.size());
}

TEST(SampleShop, HoldsEverythingThatAShopsBookHolds) {
    const SampleShop shop = madeWith({.jobs = 2000});
    std::map<core::JobKind, int> kinds;
    std::map<core::DeliveryCheck, int> checks;
    std::map<core::ComebackDecision, int> decisions;
    std::map<core::FollowUpOutcome, int> outcomes;
    std::map<core::Payer, int> payers;
    std::set<std::optional<core::RepairPathId>> paths;
    int voids = 0;
    int inWork = 0;
    for (const core::Job& job : shop.jobs) {
        ++kinds[job.kind];
        ++checks[job.deliveryCheck];
        ++decisions[job.comebackDecision];
        ++payers[job.payer];
        voids += job.isVoid() ? 1 : 0;
        inWork += job.isDelivered() ? 0 : 1;
        if (job.path)
            paths.insert(job.path);
        EXPECT_FALSE(job.concern.empty());
    }
    for (const core::FollowUp& row : shop.followUps)
        ++outcomes[row.outcome];
    EXPECT_EQ(paths.size(), kPathCount);
    EXPECT_GT(kinds[core::JobKind::Visit], 100);
    EXPECT_GT(kinds[core::JobKind::Elsewhere], 10);
    EXPECT_GT(checks[core::DeliveryCheck::Noisy], 50);
    EXPECT_GT(checks[core::DeliveryCheck::NotDone], 20);
    for (const auto decision : {core::ComebackDecision::SameConcern, core::ComebackDecision::OtherPart,
                                core::ComebackDecision::Workmanship, core::ComebackDecision::WrongDiagnosis,
                                core::ComebackDecision::NotReproduced, core::ComebackDecision::Unrelated})
        EXPECT_GT(decisions[decision], 0);
    for (const auto outcome : {core::FollowUpOutcome::Quiet, core::FollowUpOutcome::NoiseBack,
                               core::FollowUpOutcome::Sold, core::FollowUpOutcome::Scrapped,
                               core::FollowUpOutcome::RepairedElsewhere, core::FollowUpOutcome::NoAnswer,
                               core::FollowUpOutcome::CallLater, core::FollowUpOutcome::DoNotCall})
        EXPECT_GT(outcomes[outcome], 0);
    EXPECT_GT(payers[core::Payer::Supplier], 0);
    EXPECT_GT(voids, 0);
    EXPECT_GE(inWork, 3);
    EXPECT_FALSE(shop.odometers.empty());
}

TEST(SampleShop, CallsNobodyWhoAskedNotToBeCalled) {
    const SampleShop shop = madeWith({.jobs = 3000});
    for (const auto& history : histories(shop)) {
        std::optional<core::Date> asked;
        for (const auto& row : history.followUps)
            if (row.outcome == core::FollowUpOutcome::DoNotCall)
                asked = row.date;
        if (!asked)
            continue;
        EXPECT_TRUE(history.doNotCall);
        for (const auto& row : history.followUps)
            EXPECT_TRUE(row.date <= *asked || row.note == "Rang to book it in."); // they may still ring us
    }
}

} // namespace
} // namespace milehold::sample
