// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/watch/cusum.h"
#include "core/watch/funnel.h"
#include "core/watch/power.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace milehold::core {
namespace {

TEST(Funnel, ExactBinomialLimitsRunBetweenCounts) {
    // Spiegelhalter 2005, (r - alpha) / n with target 0.10, worked with R's qbinom and pbinom.
    struct {
        double n, p, limit;
    } const expected[] = {{5, 0.001, 0},
                          {5, 0.975, 0.3548971193},
                          {5, 0.999, 0.5866666667},
                          {10, 0.025, 0},
                          {10, 0.975, 0.2787356598},
                          {10, 0.999, 0.4426695263},
                          {20, 0.975, 0.228467607},
                          {20, 0.999, 0.3351718217},
                          {50, 0.025, 0.01386292696},
                          {50, 0.975, 0.1797227276},
                          {50, 0.999, 0.2401284188},
                          {100, 0.001, 0.01417886501},
                          {100, 0.025, 0.04038059552},
                          {100, 0.975, 0.1577186116},
                          {100, 0.999, 0.1983567185}};
    for (const auto& e : expected)
        EXPECT_NEAR(binomialFunnelLimit(e.n, 0.1, e.p), e.limit, 1e-9) << e.n << " " << e.p;
}

TEST(Funnel, ExactPoissonLimitsRunBetweenCounts) {
    // The same for observed over expected, with R's qpois and ppois.
    struct {
        double expected, p, limit;
    } const table[] = {{1, 0.001, 0},
                       {1, 0.975, 2.901948696},
                       {1, 0.999, 4.867625596},
                       {2, 0.975, 2.383118181},
                       {2, 0.999, 3.556279623},
                       {5, 0.025, 0.1084131591},
                       {5, 0.975, 1.875311718},
                       {5, 0.999, 2.554270756},
                       {10, 0.001, 0.1220529316},
                       {10, 0.025, 0.3775187948},
                       {10, 0.975, 1.615995067},
                       {10, 0.999, 2.066200084}};
    for (const auto& e : table)
        EXPECT_NEAR(poissonFunnelLimit(e.expected, e.p), e.limit, 1e-9) << e.expected << " " << e.p;
}

TEST(Funnel, StretchesForDispersionBeyondChanceOnly) {
    // Definition: z = (O - E)/sqrt(E); ten points of z = -+2 have mean square 4, so limits stretch by 2
    // about 1.
    std::vector<FunnelEntry> wide, narrow;
    for (int i = 0; i < 10; ++i) {
        wide.push_back({"a", 25.0 + (i % 2 == 0 ? 10 : -10), 25});
        narrow.push_back({"a", 25.0 + (i % 2 == 0 ? 1 : -1), 25});
    }
    const Funnel stretched = funnel(wide), plain = funnel(narrow);
    EXPECT_NEAR(stretched.overDispersion, 4, 1e-12);
    EXPECT_EQ(plain.overDispersion, 1);
    EXPECT_NEAR(stretched.points[0].upper95 - 1, 2 * (plain.points[0].upper95 - 1), 1e-12);
    EXPECT_NEAR(plain.points[0].upper95, poissonFunnelLimit(25, 0.975), 1e-12);
    // One wild point among twenty is cut to its neighbour and widens nothing.
    std::vector<FunnelEntry> wild(20, {"a", 25, 25});
    wild.push_back({"b", 100, 25});
    EXPECT_EQ(funnel(wild).overDispersion, 1);
    EXPECT_EQ(funnel(std::span(wide).first(9)).overDispersion, 1) << "too few points to tell";
}

TEST(Funnel, ExpectedComebacksAddUpToTheObserved) {
    // Nelson-Aalen sums: over all groups expected equals observed.
    std::mt19937_64 random(3);
    Lives lives;
    lives.groupNames = {"a", "b", "c"};
    for (int i = 0; i < 300; ++i) {
        const double entry = static_cast<double>(random() % 3 == 0 ? random() % 20 : 0);
        lives.miles.push_back(entry + 1 + static_cast<double>(random() % 50));
        lives.entry.push_back(entry);
        lives.end.push_back(random() % 3 == 0 ? kCameBack : kHolding);
        lives.weight.push_back(1 + static_cast<double>(random() % 3));
        lives.group.push_back(static_cast<std::uint32_t>(random() % 3));
    }
    double observed = 0, expected = 0;
    for (const FunnelEntry& tally : observedAndExpected(lives)) {
        observed += tally.observed;
        expected += tally.expected;
    }
    EXPECT_NEAR(expected, observed, 1e-9 * observed);
}

TEST(Funnel, ExpectsWhatIsUsualInTheLifesOwnStratum) {
    // By hand. Stratum x: 1 of 2 comes back at 1; stratum y: none of 2. "a" did both of x, "b" both of y.
    Lives lives;
    lives.groupNames = {"a", "b"};
    lives.stratumNames = {"x", "y"};
    lives.miles = {1, 2, 1, 2};
    lives.end = {kCameBack, kHolding, kHolding, kHolding};
    lives.group = {0, 0, 1, 1};
    lives.stratum = {0, 0, 1, 1};
    const auto apart = observedAndExpected(lives, true);
    EXPECT_DOUBLE_EQ(apart[0].expected, 1) << "1/2 for each of its own two";
    EXPECT_DOUBLE_EQ(apart[1].expected, 0);
    const auto together = observedAndExpected(lives);
    EXPECT_DOUBLE_EQ(together[0].expected, 0.5) << "1/4 for each of four";
    EXPECT_DOUBLE_EQ(together[1].expected, 0.5);
}

TEST(Funnel, AHarderMixOfRepairsPassesNoLimitByItself) {
    // Invented truth: nobody works better than another, but one gets only the path that fails three times as
    // often.
    std::mt19937_64 random(8);
    std::exponential_distribution<double> life(1);
    Lives lives;
    lives.groupNames = {"hard jobs", "mixed", "easy jobs"};
    lives.stratumNames = {"hard", "easy"};
    for (int i = 0; i < 900; ++i) {
        const auto person = static_cast<std::uint32_t>(i % 3);
        const std::uint32_t path = person == 1 ? static_cast<std::uint32_t>(random() % 2) : person / 2;
        const double t = life(random) / (path == 0 ? 0.9 : 0.3);
        lives.miles.push_back(std::min(t, 0.5));
        lives.end.push_back(t <= 0.5 ? kCameBack : kHolding);
        lives.group.push_back(person);
        lives.stratum.push_back(path);
    }
    const Funnel together = funnel(observedAndExpected(lives));
    const Funnel apart = funnel(observedAndExpected(lives, true));
    EXPECT_GT(together.points[0].ratio, together.points[0].upper998) << "blamed for the path";
    EXPECT_LT(together.points[2].ratio, together.points[2].lower998);
    for (const FunnelPoint& point : apart.points) {
        EXPECT_LT(point.ratio, point.upper95) << point.name;
        EXPECT_GT(point.ratio, point.lower95) << point.name;
    }
}

TEST(Power, CountsTheComebacksThatTellTwoPathsApart) {
    // Schoenfeld 1981: 4 z^2 / ln(ratio)^2; Freedman 1982: z^2 ((ratio + 1)/(ratio - 1))^2; equal shares,
    // two-sided 5 %.
    struct {
        double ratio, power, schoenfeld, freedman;
    } const table[] = {{1.5, 0.8, 190.9680402, 196.2219934}, {1.5, 0.9, 255.6520239, 262.6855765},
                       {2, 0.8, 65.34565926, 70.63991761},   {2, 0.9, 87.47929772, 94.56680755},
                       {3, 0.8, 26.0123004, 31.39551894},    {3, 0.9, 34.82308997, 42.02969225}};
    for (const auto& e : table) {
        const auto needed = comebacksNeeded({e.ratio, 0.95, e.power, 0.5});
        ASSERT_TRUE(needed);
        EXPECT_NEAR(needed->schoenfeld, e.schoenfeld, 1e-6);
        EXPECT_NEAR(needed->freedman, e.freedman, 1e-6);
        EXPECT_NEAR(comebacksNeeded({1 / e.ratio, 0.95, e.power, 0.5})->freedman, e.freedman, 1e-6);
        EXPECT_NEAR(*powerOf(needed->schoenfeld, {e.ratio, 0.95, 0.5, 0.5}), e.power, 1e-9);
    }
    const double power[] = {0.1937933788, 0.3408883868, 0.5917154046, 0.8728327766};
    const double comebacks[] = {10, 20, 40, 80};
    for (int i = 0; i < 4; ++i)
        EXPECT_NEAR(*powerOf(comebacks[i], {2, 0.95, 0.8, 0.5}), power[i], 1e-9);
    // Unequal shares: naming the paths the other way round changes nothing, and near a ratio of 1 both rules
    // agree.
    const auto one = comebacksNeeded({2, 0.95, 0.8, 0.25}), turned = comebacksNeeded({0.5, 0.95, 0.8, 0.75});
    EXPECT_NEAR(one->freedman, turned->freedman, 1e-9);
    EXPECT_NEAR(one->schoenfeld, turned->schoenfeld, 1e-9);
    const auto close = comebacksNeeded({1.001, 0.95, 0.8, 0.25});
    EXPECT_NEAR(close->freedman / close->schoenfeld, 1, 2e-3);
    EXPECT_EQ(*jobsNeeded(66, 0.3), 220);
    EXPECT_FALSE(comebacksNeeded({1, 0.95, 0.8, 0.5}));
    EXPECT_FALSE(jobsNeeded(66, 0));
}

const ExpectedHazard kOnePercentADay = [](double age) { return 0.01 * age; };

TEST(Cusum, FollowsTheStepsWorkedByHand) {
    // Three jobs enter on days 0, 10, 20; 1 % a day; the first comes back on day 40, the third on day 55;
    // ratio 2. By hand: 0 up to 40, then ln 2; less 0.02 a day for 15 days, plus ln 2; less 0.01 a day for 5
    // days.
    const std::vector<WatchedJob> jobs = {{0, 40, true}, {10, 100, false}, {20, 55, true}};
    const auto points = cusum(jobs, kOnePercentADay, 2, std::vector<double>{10, 20, 60});
    ASSERT_TRUE(points);
    const double expected[] = {0, 0, std::log(2.0), 2 * std::log(2.0) - 0.3, 2 * std::log(2.0) - 0.35};
    ASSERT_EQ(points->size(), 5U);
    for (std::size_t i = 0; i < 5; ++i)
        EXPECT_NEAR((*points)[i].value, expected[i], 1e-12);
    EXPECT_EQ(*alarmDay(*points, 1), 55);
    EXPECT_FALSE(alarmDay(*points, 2));
    EXPECT_FALSE(cusum(jobs, kOnePercentADay, 1));
}

TEST(Cusum, ItsLimitKeepsTheFalseAlarmsToTheChanceAsked) {
    // Fresh simulation, seeded otherwise: about one in ten years in good order passes the limit for one in
    // ten.
    std::vector<double> enters;
    for (int i = 0; i < 60; ++i)
        enters.push_back(5.0 * i);
    const ExpectedHazard slow = [](double age) { return 2e-3 * age; };
    CusumLimitOptions options;
    options.falseAlarm = 0.1;
    const auto limit = cusumLimit(enters, slow, options);
    ASSERT_TRUE(limit);
    EXPECT_EQ(*limit, *cusumLimit(enters, slow, options)) << "same seed, same limit";
    std::mt19937_64 random(99);
    std::exponential_distribution<double> life(2e-3);
    int alarms = 0;
    for (int year = 0; year < 2000; ++year) {
        std::vector<WatchedJob> jobs;
        for (double entered : enters) {
            const double out = entered + life(random);
            jobs.push_back({entered, std::min(out, options.horizon), out <= options.horizon});
        }
        if (alarmDay(*cusum(jobs, slow, 2), *limit))
            ++alarms;
    }
    EXPECT_NEAR(alarms / 2000.0, 0.1, 0.025);
}

TEST(Cusum, ItsLimitKeepsTheChanceWhereTheExpectedHazardIsAnEstimate) {
    // Invented truth: 2 in 1,000 a day, for the others as for the watched. What is expected comes from 12
    // comebacks of the others, so it is off by chance, anew in each of 400 shops.
    constexpr double kTrue = 2e-3, kBehind = 12;
    std::vector<double> enters;
    for (int i = 0; i < 60; ++i)
        enters.push_back(5.0 * i);
    std::mt19937_64 random(31);
    std::gamma_distribution<double> exposure(kBehind, 1 / kTrue);
    std::exponential_distribution<double> life(kTrue);
    int alarms = 0, alarmsIfKnown = 0;
    for (int shop = 0; shop < 400; ++shop) {
        const double rate = kBehind / exposure(random);
        const ExpectedHazard estimated = [rate](double age) { return rate * age; };
        CusumLimitOptions options;
        options.falseAlarm = 0.1;
        options.runs = 200;
        options.seed = static_cast<std::uint64_t>(shop);
        const auto known = cusumLimit(enters, estimated, options);
        options.comebacksBehind = kBehind;
        const auto limit = cusumLimit(enters, estimated, options);
        ASSERT_TRUE(limit && known);
        std::vector<WatchedJob> jobs;
        for (const double entered : enters) {
            const double out = entered + life(random);
            jobs.push_back({entered, std::min(out, options.horizon), out <= options.horizon});
        }
        const auto points = cusum(jobs, estimated, 2);
        alarms += alarmDay(*points, *limit) ? 1 : 0;
        alarmsIfKnown += alarmDay(*points, *known) ? 1 : 0;
    }
    EXPECT_LT(alarms / 400.0, 0.14) << "0.1 and nearly three standard errors";
    EXPECT_GT(alarms / 400.0, 0.05);
    EXPECT_GT(alarmsIfKnown / 400.0, 0.14) << "taking the estimate for known warns too often";
    CusumLimitOptions nothing;
    nothing.comebacksBehind = 0;
    EXPECT_FALSE(cusumLimit(enters, kOnePercentADay, nothing));
}

TEST(Cusum, OneOfManyWarnsForNothingMoreOftenThanEach) {
    // 1 - 0.95^12 = 0.4596399 by hand.
    EXPECT_NEAR(chanceOfAnyAlarm(0.05, 12), 0.4596399123, 1e-9);
    EXPECT_DOUBLE_EQ(chanceOfAnyAlarm(0.05, 1), 0.05);
    EXPECT_EQ(chanceOfAnyAlarm(0.05, 0), 0);
}

TEST(Cusum, RisesWhenComebacksDouble) {
    std::vector<WatchedJob> jobs;
    std::mt19937_64 random(5);
    std::exponential_distribution<double> life(3 * 2e-3);
    for (int i = 0; i < 60; ++i) {
        const double out = 5.0 * i + life(random);
        jobs.push_back({5.0 * i, std::min(out, 365.25), out <= 365.25});
    }
    const ExpectedHazard slow = [](double age) { return 2e-3 * age; };
    std::vector<double> enters;
    for (const WatchedJob& job : jobs)
        enters.push_back(job.enters);
    EXPECT_TRUE(alarmDay(*cusum(jobs, slow, 2), *cusumLimit(enters, slow)));
}

} // namespace
} // namespace milehold::core
