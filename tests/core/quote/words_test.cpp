// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/words.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::core {
namespace {

TEST(Words, GroupThousands) {
    EXPECT_EQ(grouped(0), "0");
    EXPECT_EQ(grouped(999), "999");
    EXPECT_EQ(grouped(1'000), "1,000");
    EXPECT_EQ(grouped(1'234'567), "1,234,567");
    EXPECT_EQ(grouped(-1'234), "-1,234");
    EXPECT_EQ(grouped(-123), "-123");
}

TEST(Words, SayDistancesToTheNearestThousand) {
    EXPECT_EQ(distanceWords(24'499, DistanceUnit::Miles), "24,000 miles");
    EXPECT_EQ(distanceWords(24'500, DistanceUnit::Kilometres), "25,000 kilometres");
    EXPECT_EQ(distanceWords(999.4, DistanceUnit::Miles), "999 miles");
    EXPECT_EQ(distanceWords(1, DistanceUnit::Miles), "1 mile");
    EXPECT_EQ(distanceWords(0, DistanceUnit::Kilometres), "0 kilometres");
}

TEST(Words, NeverRoundAChanceToAllOrNothing) {
    EXPECT_EQ(percentWords(0.874), "87 %");
    EXPECT_EQ(percentWords(0.875), "88 %");
    EXPECT_EQ(percentWords(0.996), "more than 99 %");
    EXPECT_EQ(percentWords(1), "100 %");
    EXPECT_EQ(percentWords(0.004), "less than 1 %");
    EXPECT_EQ(percentWords(0), "0 %");
}

TEST(Words, RoundDownWhatIsSaidWithAtLeast) {
    EXPECT_EQ(atLeastWords(0.7499), "74 %");
    EXPECT_EQ(atLeastWords(0.75), "75 %");
    EXPECT_EQ(atLeastWords(0.29), "29 %"); // 0.29 * 100 is a little less than 29
    EXPECT_EQ(atLeastWords(0.003), "less than 1 %");
    EXPECT_EQ(atLeastWords(0), "0 %");
}

// What is printed must cover what was worked out: Clopper-Pearson limits of 1 of 17 (0.71311, 0.99851) and of
// 3 of 20 (0.62107, 0.96793). Source: Clopper & Pearson 1934, Biometrika 26:404, worked in R with qbeta.
TEST(Words, RoundLimitsOutward) {
    EXPECT_EQ(limitWords(0.71311, 0.99851), "71 % to 100 %");
    EXPECT_EQ(limitWords(0.62107, 0.96793), "62 % to 97 %");
    EXPECT_EQ(limitWords(0.8479, 0.9701), "84 % to 98 %");
    EXPECT_EQ(limitWords(0.29, 0.57), "29 % to 57 %") << "0.29 * 100 is a little less than 29, 0.57 more";
    EXPECT_EQ(limitWords(0, 1), "0 % to 100 %");
    EXPECT_EQ(limitWords(0.004, 0.996), "0 % to 100 %");
    EXPECT_EQ(percentDown(-0.125), -13) << "differences too";
    EXPECT_EQ(percentUp(-0.125), -12);
    for (int lower = 0; lower <= 1000; lower += 7)
        for (int upper = lower; upper <= 1000; upper += 13)
            for (int share = lower; share <= upper; share += 11) {
                const auto nearest = std::lround(share / 10.0);
                EXPECT_TRUE(percentDown(lower / 1000.0) <= nearest && nearest <= percentUp(upper / 1000.0));
            }
}

TEST(Words, SayLevelsAndTimes) {
    EXPECT_EQ(levelWords(0.95), "95 %");
    EXPECT_EQ(levelWords(0.999), "99.9 %");
    EXPECT_EQ(timeWords(2), "about 2 years");
    EXPECT_EQ(timeWords(1), "about 1 year");
    EXPECT_EQ(timeWords(1.6), "about 1.5 years");
    EXPECT_EQ(timeWords(0.7), "about 8 months");
    EXPECT_EQ(timeWords(0.01), "about 1 month");
    EXPECT_EQ(timeWords(12.4), "about 12 years");
}

} // namespace
} // namespace milehold::core
