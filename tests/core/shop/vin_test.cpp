// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/vin.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

#include <string>

namespace milehold::core {
namespace {

using testing_support::worstIn;

// Source: 49 CFR 565.15(c), sample calculation: sum 411, remainder 4.
TEST(Vin, AgreesWithTheSampleCalculationOfItsRule) {
    EXPECT_EQ(vinWeightedSum("1G4AH59H45G118341"), 411);
    EXPECT_EQ(vinCheckDigit("1G4AH59H45G118341"), '4');
    EXPECT_EQ(vinModelYear("1G4AH59H45G118341"), 2005);
    EXPECT_TRUE(checkVin("1G4AH59H45G118341", 2005).empty());
}

struct Case {
    const char* vin;
    int sum;
    char check;
    int year;
};

// Made up, and worked by hand from the tables of 49 CFR 565.15(c) and (d)(1).
TEST(Vin, WeighsEveryPosition) {
    const Case cases[] = {{"11111111111111111", 89, '1', 2001},  {"1ZZBT4A21E0000017", 243, '1', 2014},
                          {"1ZZBT4A21F0000018", 254, '1', 2015}, {"1ZZCV6B369K000123", 325, '6', 2039},
                          {"9ZZHG7K59LT045678", 493, '9', 2020}, {"1ZZDW5C13AM100200", 256, '3', 2010},
                          {"1ZZDW511XAM100200", 252, 'X', 1980}, {"2ZZPN1M9XCX999999", 615, 'X', 2012},
                          {"1ZZBT4A2XE0000002", 230, 'X', 2014}, {"1ZZBT4A26Y0000017", 270, '6', 2030}};
    for (const auto& c : cases) {
        EXPECT_EQ(vinWeightedSum(c.vin), c.sum) << c.vin;
        EXPECT_EQ(vinCheckDigit(c.vin), c.check) << c.vin;
        EXPECT_EQ(vinModelYear(c.vin), c.year) << c.vin;
        EXPECT_TRUE(checkVin(c.vin, c.year).empty()) << c.vin;
    }
}

// Transliteration. Source: 49 CFR 565.15(c), table of assigned values.
TEST(Vin, GivesEachLetterItsValue) {
    const std::pair<char, int> values[] = {{'A', 1}, {'B', 2}, {'C', 3}, {'D', 4}, {'E', 5}, {'F', 6},
                                           {'G', 7}, {'H', 8}, {'J', 1}, {'K', 2}, {'L', 3}, {'M', 4},
                                           {'N', 5}, {'P', 7}, {'R', 9}, {'S', 2}, {'T', 3}, {'U', 4},
                                           {'V', 5}, {'W', 6}, {'X', 7}, {'Y', 8}, {'Z', 9}};
    for (const auto& [letter, value] : values) {
        std::string vin(17, '0');
        vin[7] = letter; // weight 10
        EXPECT_EQ(vinWeightedSum(vin), 10 * value) << letter;
    }
}

// Year codes. Source: 49 CFR 565.15(d)(1): thirty codes, told apart by position 7.
TEST(Vin, TellsTheModelYearByPositionSeven) {
    const std::string codes = "ABCDEFGHJKLMNPRSTVWXY123456789";
    for (std::size_t i = 0; i < codes.size(); ++i) {
        std::string vin(17, '1');
        vin[9] = codes[i];
        EXPECT_EQ(vinModelYear(vin), 1980 + static_cast<int>(i));
        vin[6] = 'A';
        EXPECT_EQ(vinModelYear(vin), 2010 + static_cast<int>(i));
    }
    for (const char code : {'U', 'Z', '0'}) {
        std::string vin(17, '1');
        vin[9] = code;
        EXPECT_FALSE(vinModelYear(vin)) << code;
    }
}

TEST(Vin, ReadsWhatScannersType) {
    EXPECT_EQ(vinFromScan("I1ZZBT4A21E0000017"), "1ZZBT4A21E0000017");     // Code 39, import mark
    EXPECT_EQ(vinFromScan("*1ZZBT4A21E0000017*"), "1ZZBT4A21E0000017");    // Code 39, start and stop
    EXPECT_EQ(vinFromScan("*I1ZZBT4A21E0000017*\r"), "1ZZBT4A21E0000017"); // both
    EXPECT_EQ(vinFromScan(" 1ZZBT4A21E0000017\r\n"), "1ZZBT4A21E0000017");
    EXPECT_EQ(vinFromScan("1zzbt4a21e0000017"), "1ZZBT4A21E0000017");
    EXPECT_EQ(vinFromScan("11ZZBT4A21E0000017"),
              "11ZZBT4A21E0000017"); // a 1 is not the mark: kept, and refused
    EXPECT_EQ(vinFromScan("IZZBT4A21E0000017"), "IZZBT4A21E0000017"); // 17 characters: an I typed for a 1
    EXPECT_EQ(vinFromScan("***"), "");
}

TEST(Vin, RefusesTheLetterOFromModelYear1981On) {
    const auto findings = checkVin("1ZZBT4A21EOOOOO17", 2014);
    EXPECT_EQ(worstIn(findings, "vin"), Severity::Error);
    EXPECT_EQ(vinWithoutSlips("1ZZBT4A21EOOOOO17"), "1ZZBT4A21E0000017");
}

TEST(Vin, RefusesTheLettersIAndQ) {
    EXPECT_EQ(worstIn(checkVin("1ZZBT4A21EI000017", 2014), "vin"), Severity::Error);
    EXPECT_EQ(worstIn(checkVin("1ZZBT4A21E0Q00017", 2014), "vin"), Severity::Error);
    EXPECT_FALSE(vinWithoutSlips("1ZZBT4A21EI000017")); // with a 1 there the check digit does not fit
    EXPECT_FALSE(vinWithoutSlips("1ZZBT4A21E0000017")); // nothing to mend
    EXPECT_FALSE(vinWithoutSlips("O"));
}

TEST(Vin, RefusesAWrongLength) {
    EXPECT_EQ(worstIn(checkVin("1ZZBT4A21E000001", 2014), "vin"), Severity::Error);
    EXPECT_EQ(worstIn(checkVin("11ZZBT4A21E0000017", 2014), "vin"), Severity::Error);
    EXPECT_EQ(worstIn(checkVin("1ZZBT4A21E000001", std::nullopt), "vin"), Severity::Error);
}

TEST(Vin, TakesAnyFormBeforeModelYear1981) {
    EXPECT_EQ(worstIn(checkVin("H123456IOQ", 1980), "vin"), Severity::Hint);
    EXPECT_EQ(worstIn(checkVin("H123456IOQ", 1981), "vin"), Severity::Error);
}

TEST(Vin, OnlyWarnsOfACheckDigitAndSaysWhy) {
    const auto findings = checkVin("1ZZBT4A22E0000017", 2014);
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings[0].severity, Severity::Warning);
    EXPECT_NE(findings[0].message.find("Makers outside North America need not use it"), std::string::npos);
    EXPECT_EQ(findings[0].message.find("0000017"), std::string::npos) << "a VIN has no place in a message";
}

// B and K are both worth 2: the check digit cannot see that slip, and nothing is claimed.
TEST(Vin, CannotSeeASlipBetweenLettersOfOneValue) {
    EXPECT_TRUE(checkVin("1ZZKT4A21E0000017", 2014).empty());
}

TEST(Vin, HintsAtAModelYearThatDiffers) {
    EXPECT_EQ(worstIn(checkVin("1ZZBT4A21E0000017", 2015), "vin"), Severity::Hint);
}

TEST(Vin, IsLookedUpByItsLastEight) {
    EXPECT_EQ(vinSearchKey("1ZZBT4A21E0000017"), "E0000017");
    EXPECT_EQ(vinSearchKey("0017"), "0017");
    EXPECT_EQ(vinSearchKey(""), "");
}

TEST(Vin, MayBeBlank) {
    EXPECT_TRUE(checkVin("", std::nullopt).empty());
}

} // namespace
} // namespace milehold::core
