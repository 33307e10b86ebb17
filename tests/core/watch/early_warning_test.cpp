// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/watch/early_warning.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace milehold::core {
namespace {

// Eight jobs from day 0 on: they come back after 0, 10, 20, 20 and 40 days; three hold for 30, 30 and 60.
const std::vector<WatchedJob> kUsual = {{0, 0, true},  {0, 10, true},  {0, 20, true},  {0, 20, true},
                                        {0, 40, true}, {0, 30, false}, {0, 30, false}, {0, 60, false}};

TEST(UsualHazard, IsNelsonAalenOverTheDaysWorkedByHand) {
    const auto usual = usualHazard(kUsual);
    ASSERT_TRUE(usual);
    EXPECT_EQ(usual->comebacks, 5);
    EXPECT_EQ(usual->longest, 60);
    EXPECT_EQ((*usual)(0), 0) << "one that never held counts half a day after its delivery";
    EXPECT_NEAR((*usual)(0.5), 1.0 / 8, 1e-15);
    EXPECT_NEAR((*usual)(19.9), 1.0 / 8 + 1.0 / 7, 1e-15);
    EXPECT_NEAR((*usual)(20), 1.0 / 8 + 1.0 / 7 + 2.0 / 6, 1e-15);
    EXPECT_NEAR((*usual)(1e9), 1.0 / 8 + 1.0 / 7 + 2.0 / 6 + 1.0 / 2, 1e-15);
    const auto few = usualHazard(std::span(kUsual).subspan(1));
    ASSERT_FALSE(few);
    EXPECT_EQ(few.error().code, ErrorCode::NotEstimable);
}

TEST(EarlyWarning, IsTheRunningSumAgainstWhatIsUsual) {
    const auto usual = usualHazard(kUsual);
    ASSERT_TRUE(usual);
    // The first holds; the second comes back 12 days after its delivery on day 105; the third never held; the
    // fourth comes back 90 days after day 106, when nobody knows what is usual.
    const std::vector<WatchedJob> jobs = {
        {100, 130, false}, {105, 117, true}, {106, 106, true}, {106, 196, true}};
    const auto warning = earlyWarning(jobs, *usual, 200);
    ASSERT_TRUE(warning) << warning.error().detail;
    EXPECT_EQ(warning->repairs, 4);
    EXPECT_EQ(warning->comebacks, 2) << "a comeback past the longest watched counts for nothing";
    EXPECT_EQ(warning->first, 100);
    const double h = 1.0 / 8, i = h + 1.0 / 7, j = i + 2.0 / 6, k = j + 1.0 / 2;
    EXPECT_NEAR(warning->expected, j + i + h + k, 1e-14);
    const auto valueOn = [&](double day) {
        for (const CusumPoint& point : warning->points)
            if (point.day == day)
                return point.value;
        ADD_FAILURE() << "no point on day " << day;
        return -1.0;
    };
    // By hand, ratio 2. Day 6.5, the third never held: at or under 0 until then, plus ln 2. To day 17 the
    // second meets what is expected at 10 days, the fourth and the first too.
    EXPECT_NEAR(valueOn(6.5), std::log(2.0), 1e-14);
    EXPECT_NEAR(valueOn(17), std::log(2.0) - 3 * (i - h) + std::log(2.0), 1e-14);
    EXPECT_EQ(warning->points.back().day, 100);
    // A clock behind the records: the watch goes on to the last of them, day 166 less 100.
    const auto behind = earlyWarning(jobs, *usual, 50);
    ASSERT_TRUE(behind);
    EXPECT_EQ(behind->points.back().day, 66);
    // The limit is the one that the simulation gives for so long a watch.
    CusumLimitOptions how;
    how.horizon = 100;
    how.falseAlarm = 1 - std::pow(0.95, 100 / 365.25);
    how.runs = kWarningRuns;
    how.comebacksBehind = 5;
    const std::vector<double> enters = {0, 5, 6, 6};
    EXPECT_NEAR(warning->limit, *cusumLimit(enters, *usual, how), 1e-12);
}

TEST(EarlyWarning, RefusesNoJobsAndOptionsOutOfRange) {
    const auto usual = usualHazard(kUsual);
    EXPECT_FALSE(earlyWarning({}, *usual, 10));
    EXPECT_FALSE(earlyWarning(kUsual, *usual, 10, {.hazardRatio = 1}));
    EXPECT_FALSE(earlyWarning(kUsual, *usual, 10, {.falseAlarmAYear = 1}));
    EXPECT_FALSE(earlyWarning(kUsual, *usual, 10, {.runs = 0}));
}

// Invented truth: the part and the others share one hazard that falls with age (Weibull, shape 0.7). Over
// three years a warning has the chance 1 - 0.95^3 = 0.143 at most, in each of 250 shops with what is usual
// known from its own few comebacks.
TEST(EarlyWarning, OfAPartInGoodOrderIsNoLikelierThanStated) {
    std::mt19937_64 random(7);
    std::uniform_real_distribution<double> uniform(0, 1);
    constexpr double kEnd = 3 * 365.25;
    const auto draw = [&](int count) {
        std::vector<WatchedJob> jobs;
        for (int i = 0; i < count; ++i) {
            const double enters = kEnd * uniform(random) * 0.9;
            const double lasts = 4'000 * std::pow(-std::log(uniform(random)), 1 / 0.7);
            const double heard = uniform(random) < 0.5 ? kEnd - enters : (kEnd - enters) * uniform(random);
            jobs.push_back({enters, enters + std::min(lasts, heard), lasts <= heard});
        }
        return jobs;
    };
    int shops = 0, alarms = 0;
    while (shops < 250) {
        const auto usual = usualHazard(draw(120));
        if (!usual)
            continue;
        ++shops;
        const auto warning =
            earlyWarning(draw(40), *usual, kEnd, {.runs = 100, .seed = static_cast<std::uint64_t>(shops)});
        ASSERT_TRUE(warning);
        alarms += warning->alarm ? 1 : 0;
    }
    EXPECT_LT(alarms / 250.0, 0.143 + 3 * std::sqrt(0.143 * 0.857 / 250));
    RecordProperty("alarms", alarms);
}

} // namespace
} // namespace milehold::core
