// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quantity/money.h"

#include <gtest/gtest.h>

#include <limits>

namespace milehold::core {
namespace {

// Source: ISO 4217, list one (amendments to 2023).
TEST(Money, KnowsCurrenciesWithoutCentsAndWithThreeDigits) {
    EXPECT_EQ(minorDigits("USD"), 2);
    EXPECT_EQ(minorDigits("JPY"), 0);
    EXPECT_EQ(minorDigits("KWD"), 3);
}

TEST(Money, IsWrittenWithAPointAndWithoutGrouping) {
    EXPECT_EQ(toDecimal(Money{-123'450}, 2), "-1234.50");
    EXPECT_EQ(toDecimal(Money{5}, 2), "0.05");
    EXPECT_EQ(toDecimal(Money{-5}, 3), "-0.005");
    EXPECT_EQ(toDecimal(Money{0}, 2), "0.00");
    EXPECT_EQ(toDecimal(Money{700}, 0), "700");
    EXPECT_EQ(toDecimal(Money{std::numeric_limits<std::int64_t>::min()}, 2), "-92233720368547758.08");
}

TEST(Money, ReadsFewerDecimalsAndRefusesMore) {
    EXPECT_EQ(moneyFromDecimal("1234.5", 2), Money{123'450});
    EXPECT_EQ(moneyFromDecimal("-0.05", 2), Money{-5});
    EXPECT_EQ(moneyFromDecimal("12", 3), Money{12'000});
    for (const char* text : {"", "-", "1.", ".5", "1.234", "1,5", "1 000", "+1", "--1", "1.-5", "1e3", "abc",
                             "92233720368547758.08"})
        EXPECT_FALSE(moneyFromDecimal(text, 2)) << text;
}

TEST(Money, ReadsBackWhatItWrote) {
    for (std::int64_t minor = -25'000; minor <= 25'000; minor += 7)
        for (const int digits : {0, 2, 3})
            ASSERT_EQ(moneyFromDecimal(toDecimal(Money{minor}, digits), digits), Money{minor});
}

} // namespace
} // namespace milehold::core
