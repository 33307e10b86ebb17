// SPDX-License-Identifier: GPL-3.0-or-later
// How warranties are worded is common practice in the trade; no published source.
#include "core/shop/validation.h"
#include "core/shop/warranty_words.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using namespace testing_support;

ShopSettings terms(std::optional<int> months, std::optional<Distance> distance, std::string words) {
    ShopSettings settings;
    settings.name = "Fellside Timing";
    settings.warrantyMonths = months;
    settings.warrantyDistance = distance;
    settings.warrantyTerms = std::move(words);
    return settings;
}

std::vector<int> monthsIn(std::string_view text) {
    std::vector<int> months;
    for (const auto& one : readWarrantyWords(text).months)
        months.push_back(one.amount);
    return months;
}

std::vector<Distance> distancesIn(std::string_view text) {
    std::vector<Distance> distances;
    for (const auto& one : readWarrantyWords(text).distances)
        distances.push_back(one.amount);
    return distances;
}

TEST(WarrantyWords, ReadsMonthsAndYearsHoweverTheyAreWritten) {
    EXPECT_EQ(monthsIn("24 months or 24,000 miles"), (std::vector{24}));
    EXPECT_EQ(monthsIn("A 12-month warranty; Two Years on parts, 1.5 yrs on labor"),
              (std::vector{12, 24, 18}));
    EXPECT_EQ(monthsIn("twenty-four\u00a0months, thirty-six mos."), (std::vector{24, 36}));
    EXPECT_EQ(monthsIn("24/24,000. Call 555 0142. In 2024 monthly."), (std::vector<int>{}));
}

TEST(WarrantyWords, ReadsDistancesInEitherUnitAndGroupedEitherWay) {
    const std::vector one{Distance::miles(24'000)};
    for (const char* text : {"24,000 miles", "24.000 mi", "24 000 miles", "24\u202f000-mile", "24'000 mi",
                             "24k miles", "24 thousand miles", "24000 Miles"})
        EXPECT_EQ(distancesIn(text), one) << text;
    EXPECT_EQ(distancesIn("40 000 km or 24 km"),
              (std::vector{Distance::kilometres(40'000), Distance::kilometres(24)}));
    EXPECT_EQ(distancesIn("24 minutes, 24,000, 24 kinds, mile 24"), (std::vector<Distance>{}));
    EXPECT_EQ(readWarrantyWords("within 24,000 miles.").distances.front().asWritten, "24,000 miles");
}

TEST(WarrantyWords, FindsNothingInNothingAndStopsAtAnyEnd) {
    for (const char* text :
         {"", " ", "24", "24,", "24,0", "twenty-", "\u00a0", "\xC2", "12 -", "9999999999999999999999"})
        EXPECT_EQ(readWarrantyWords(text), WarrantyWords{}) << text;
    EXPECT_EQ(distancesIn("9999999999999999999999 miles").size(), 1U) << "far too many, and no overflow";
}

TEST(WarrantyWords, AWarningStandsByWordsThatSayAnotherTerm) {
    const auto settings = terms(24, Distance::miles(24'000), "12 months or 12,000 miles on parts and labor.");
    const auto findings = validate(settings);
    ASSERT_EQ(findings.size(), 2U) << "one for the months, one for the distance";
    EXPECT_EQ(worstIn(findings, "warrantyTerms"), Severity::Warning);
    EXPECT_EQ(
        findings[0].message,
        "The words say \"12 months\", but 24 months are entered above; the customer's page prints both.");
    EXPECT_NE(findings[1].message.find("12,000 miles"), std::string::npos) << findings[1].message;
}

TEST(WarrantyWords, WordsThatSayTheTermsOrNoneStandWithoutAWord) {
    const Distance far = Distance::miles(24'000);
    EXPECT_TRUE(validate(terms(24, far, "24 months or 24,000 miles; keep the receipts.")).empty());
    EXPECT_TRUE(validate(terms(24, far, "Two years or 38,624 km.")).empty()) << "the same in other units";
    EXPECT_TRUE(validate(terms(24, far, "Parts 24 months, labor 12 months.")).empty());
    EXPECT_TRUE(validate(terms(24, far, "Keep the receipts.")).empty());
    EXPECT_TRUE(validate(terms({}, {}, "90 days, or as agreed on the order.")).empty());
    EXPECT_TRUE(validate(terms({}, {}, "24 months or 24,000 miles.")).empty())
        << "then the words are the terms";
}

TEST(WarrantyWords, SayTheTermsWhenEachThatIsEnteredIsAmongThem) {
    const Distance far = Distance::miles(24'000);
    EXPECT_TRUE(saysItsTerms(terms(24, far, "24 months or 24,000 miles, whichever comes first.")));
    EXPECT_TRUE(saysItsTerms(terms(24, {}, "Two years on parts.")));
    EXPECT_FALSE(saysItsTerms(terms(24, far, "24 months on parts.")));
    EXPECT_FALSE(saysItsTerms(terms(24, far, "Keep the receipts.")));
    EXPECT_FALSE(saysItsTerms(terms({}, {}, "24 months.")));
}

TEST(WarrantyWords, AWarningStandsByATermThatOnlyTheWordsHave) {
    EXPECT_EQ(worstIn(validate(terms(24, {}, "24 months or 24,000 miles.")), "warrantyTerms"),
              Severity::Warning);
    EXPECT_EQ(
        worstIn(validate(terms({}, Distance::miles(24'000), "24 months or 24,000 miles.")), "warrantyTerms"),
        Severity::Warning);
    EXPECT_EQ(
        worstIn(validate(terms(24, Distance::miles(24'000), "24 months or 40,000 km.")), "warrantyTerms"),
        Severity::Warning);
}

} // namespace
} // namespace milehold::core
