// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/words.h"

#include <gtest/gtest.h>

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
