// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/calls.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

using namespace testing_support;

// Distance in kilometres of 38 vehicle shock absorbers, 11 of which failed. Source: O'Connor 1985, Practical
// Reliability Engineering; Meeker & Escobar 1998, Statistical Methods for Reliability Data, table C.2.
Lives shockAbsorbers() {
    const double failed[] = {6700, 9120, 12200, 13150, 14300, 17520, 20100, 20900, 22700, 26510, 27490};
    const double good[] = {6950,  7820,  8790,  9660,  9820,  11310, 11690, 11850, 11880,
                           12140, 12870, 13330, 13470, 14040, 17540, 17890, 18450, 18960,
                           18980, 19410, 20100, 20150, 20320, 23490, 27410, 27890, 28100};
    Lives lives;
    for (const double km : failed) {
        lives.miles.push_back(km);
        lives.end.push_back(kCameBack);
    }
    for (const double km : good) {
        lives.miles.push_back(km);
        lives.end.push_back(kHolding);
    }
    return lives;
}

// Expected narrowing of the 95 % limits of S(20,000) by asking about one absorber that is then known to
// 20,000: an independent calculation in R with the beta product limits of Fay, Brittain & Proschan 2013
// (method of moments).
TEST(CallValue, AgreesWithAnIndependentCalculationOnShockAbsorbers) {
    struct Row {
        double from, chanceQuiet, widthIfQuiet, expectedWidth, shrink;
    };
    const Row rows[] = {{6950, 0.80493495, 0.37544018, 0.37748558, 0.00400929},
                        {8790, 0.80493495, 0.37544018, 0.37748558, 0.00400929},
                        {9660, 0.82932692, 0.37575411, 0.3776649, 0.00382997},
                        {12140, 0.82932692, 0.37575411, 0.3776649, 0.00382997},
                        {12870, 0.8625, 0.3765494, 0.37815925, 0.00333562},
                        {13330, 0.9, 0.37757563, 0.37882401, 0.00267086},
                        {14040, 0.9, 0.37757563, 0.37882401, 0.00267086},
                        {17540, 1, 0.38149487, 0.38149487, 0},
                        {19410, 1, 0.38149487, 0.38149487, 0}};
    CallValuer valuer(countsOfAll(shockAbsorbers()), 20'000, 0.95);
    for (const auto& row : rows) {
        const CallValue value = valuer.valueOf(row.from, 20'000);
        EXPECT_NEAR(value.chanceQuiet, row.chanceQuiet, 5e-9) << row.from;
        EXPECT_NEAR(value.widthIfQuiet, row.widthIfQuiet, 5e-9) << row.from;
        EXPECT_NEAR(value.expectedWidth, row.expectedWidth, 5e-9) << row.from;
        EXPECT_NEAR(value.shrink(), row.shrink, 1e-8) << row.from;
    }
}

// With no comeback the lower limit is (alpha/2)^(1/n): one more watched beyond the horizon makes it n + 1.
TEST(CallValue, OfAPathWithoutComebacksIsOneMoreWatchedBeyond) {
    Lives lives;
    lives.miles = {10, 20, 50, 60, 70};
    lives.end.assign(5, kHolding);
    CallValuer valuer(countsOfAll(lives), 40, 0.95);
    const CallValue beyond = valuer.valueOf(10, 45);
    EXPECT_NEAR(beyond.widthNow, 1 - std::pow(0.025, 1.0 / 3), 1e-9);
    EXPECT_NEAR(beyond.expectedWidth, 1 - std::pow(0.025, 1.0 / 4), 1e-9);
    EXPECT_NEAR(beyond.chanceQuiet, 1, 1e-15);
    EXPECT_NEAR(valuer.valueOf(10, 35).shrink(), 0, 1e-12) << "it does not get past the horizon";
    EXPECT_NEAR(valuer.valueOf(60, 90).shrink(), 0, 1e-12) << "it is past it already";
}

TEST(CallValue, OpensTheLowerLimitWhereNothingIsWatchedBeyond) {
    Lives lives;
    lives.miles = {10, 20};
    lives.end.assign(2, kHolding);
    CallValuer valuer(countsOfAll(lives), 40, 0.95);
    EXPECT_NEAR(valuer.valueOf(20, 45).widthNow, 1, 1e-15);
    EXPECT_NEAR(valuer.valueOf(20, 45).widthIfQuiet, 0.975, 1e-9) << "the lower limit of one is 0.025";
}

class Calls : public ::testing::Test {
protected:
    Calls() {
        options.unit = DistanceUnit::Kilometres;
        options.horizon = Distance::kilometres(40);
        options.today = day("2031-04-09");
        for (const std::int64_t km : {12, 22, 33})
            add(km, LifeState::CameBack, 0);
        for (const std::int64_t km : {45, 50, 55, 60, 65, 70})
            add(km, LifeState::Holding, 0);
    }
    /// Returns the number of the job.
    std::uint8_t add(std::int64_t known, LifeState state, std::int64_t unseen) {
        LifeRecord record;
        const auto number = static_cast<std::uint8_t>(lives.size() + 1);
        record.life.job = job(number);
        record.life.vehicle = key<VehicleId>(number);
        record.life.path = s.phasers;
        record.life.state = state;
        record.life.known = Distance::kilometres(known);
        record.life.unseen = Distance::kilometres(unseen);
        record.life.repairedOn = day("2030-04-09");
        record.life.lastKnownOn = day("2030-04-09");
        record.family = s.family;
        lives.push_back(record);
        CallFacts fact;
        fact.job = record.life.job;
        facts.push_back(fact);
        return number;
    }
    std::vector<RankedCall> rank() const {
        const auto calls = rankCalls(lives, facts, {s.shelf, {}}, options);
        EXPECT_TRUE(calls);
        return calls.value_or(std::vector<RankedCall>{});
    }
    std::vector<JobId> order() const {
        std::vector<JobId> jobs;
        for (const auto& call : rank())
            jobs.push_back(call.job);
        return jobs;
    }
    SmallShelf s;
    std::vector<LifeRecord> lives;
    std::vector<CallFacts> facts;
    CallOptions options;
};

TEST_F(Calls, PutTheAnswerThatNarrowsTheLimitsMostFirst) {
    const auto little = add(35, LifeState::Holding, 4); // no comeback in between, not past the horizon
    const auto much = add(5, LifeState::Holding, 60);   // past the horizon, over all three
    const auto some = add(25, LifeState::Holding, 30);
    EXPECT_EQ(order(), (std::vector{job(much), job(some), job(little)}));
    const auto calls = rank();
    EXPECT_GT(calls[0].shrink, calls[1].shrink);
    EXPECT_GT(calls[1].shrink, 0);
    EXPECT_NEAR(calls[2].shrink, 0, 1e-12);
    EXPECT_NEAR(calls[0].chanceNoisy, 1 - 10.0 / 11 * 9 / 10 * 7 / 8, 1e-12) << "by the curve of the path";
}

TEST_F(Calls, RankByWorthAMinuteSoThatUnansweredOnesFallBack) {
    const auto a = add(5, LifeState::Holding, 60);
    const auto b = add(5, LifeState::Holding, 50);
    facts[a - 1U].unanswered = 3;
    EXPECT_EQ(order(), (std::vector{job(b), job(a)}));
    const auto calls = rank();
    EXPECT_NEAR(calls[0].minutes, 8, 1e-12);
    EXPECT_NEAR(calls[1].minutes, 20, 1e-12);
    EXPECT_NEAR(calls[0].worthAMinute, calls[0].shrink / 8, 1e-15);
}

TEST_F(Calls, AddWhatTheyDoForAnOpenWarranty) {
    const auto plain = add(5, LifeState::Holding, 60);
    const auto covered = add(5, LifeState::Holding, 60);
    facts[covered - 1U].warrantyMonths = 12; // to the very day
    EXPECT_EQ(order(), (std::vector{job(covered), job(plain)}));
    EXPECT_TRUE(rank()[0].warrantyOpen);
    EXPECT_EQ(rank()[0].warrantyEnds, day("2031-04-09"));
    EXPECT_NEAR(rank()[0].worthAMinute * 8, rank()[0].shrink + 0.02 * rank()[0].chanceNoisy, 1e-15);
    EXPECT_NE(rank()[0].reason.find("under warranty until 2031-04-09"), std::string::npos);
    options.today = day("2031-04-10");
    EXPECT_FALSE(rank()[0].warrantyOpen || rank()[1].warrantyOpen);
    facts[covered - 1U].warrantyMonths = 24;
    facts[covered - 1U].warrantyDistance = Distance::kilometres(64);
    EXPECT_FALSE(rank()[0].warrantyOpen || rank()[1].warrantyOpen) << "run out by distance";
}

TEST_F(Calls, PassOverWhomNobodyNeedsToCallOrMay) {
    add(5, LifeState::Holding, 0);
    const auto sold = add(5, LifeState::LostSight, 60);
    lives[sold - 1U].life.lostReason = LostReason::Sold;
    const auto refused = add(5, LifeState::LostSight, 60);
    lives[refused - 1U].life.lostReason = LostReason::DoNotCall;
    const auto silent = add(5, LifeState::LostSight, 60);
    lives[silent - 1U].life.lostReason = LostReason::NoContact;
    const auto unknown = add(5, LifeState::Holding, 60);
    facts.erase(facts.begin() + unknown - 1);
    EXPECT_EQ(order(), (std::vector{job(silent)}));
}

TEST_F(Calls, DoNotLookAtHintsOfTrouble) {
    add(5, LifeState::Holding, 60);
    add(5, LifeState::Holding, 60);
    const auto before = rank();
    lives.back().calibration = "an old one";
    lives.back().life.ordinal = 4; // a vehicle that has come back again and again
    lives.back().repairOrder = "customer heard something";
    const auto after = rank();
    ASSERT_EQ(before.size(), after.size());
    for (std::size_t i = 0; i < before.size(); ++i)
        EXPECT_EQ(before[i].worthAMinute, after[i].worthAMinute);
}

TEST_F(Calls, SayTheirReasonInWords) {
    add(5, LifeState::Holding, 60);
    EXPECT_EQ(
        rank()[0].reason.rfind("60 km unseen on \"Phasers, both cams\" with 6 at 40 km watched; an answer "
                               "narrows its limits by ",
                               0),
        0U)
        << rank()[0].reason;
    // Beside a path that nobody has been watched on to the horizon.
    const auto fewest = add(5, LifeState::Holding, 60);
    lives[fewest - 1U].life.path = s.valves;
    for (const auto& call : rank())
        EXPECT_EQ(call.reason.find("the path with the fewest watched (0 at 40 km)") != std::string::npos,
                  call.job == job(fewest))
            << call.reason;
}

TEST_F(Calls, ReadTheCurveOfThePathOnItsOwnEngineFamily) {
    const auto number = add(5, LifeState::Holding, 60);
    const double together = rank()[0].shrink;
    lives[number - 1U].family = key<EngineFamilyId>(7); // alone there
    EXPECT_NE(rank()[0].shrink, together);
    EXPECT_NEAR(rank()[0].shrink, 0.025, 1e-9) << "1 life: the lower limit rises from 0 to 0.025";
}

TEST_F(Calls, RefuseOptionsThatCannotBe) {
    const auto refuses = [&](auto change) {
        CallOptions wrong = options;
        change(wrong);
        return !rankCalls(lives, facts, {s.shelf, {}}, wrong);
    };
    EXPECT_TRUE(refuses([](auto& o) { o.level = 1; }));
    EXPECT_TRUE(refuses([](auto& o) { o.horizon = Distance(); }));
    EXPECT_TRUE(refuses([](auto& o) { o.minutesACall = 0; }));
    EXPECT_TRUE(refuses([](auto& o) { o.warrantyWorth = -1; }));
    EXPECT_TRUE(refuses([](auto& o) { o.today = Date{}; }));
    EXPECT_FALSE(refuses([](auto&) {}));
}

} // namespace
} // namespace milehold::core
