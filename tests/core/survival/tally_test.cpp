// SPDX-License-Identifier: GPL-3.0-or-later
// Adding up and sorting against the plain ways of the standard library, over every way that they take inside.
#include "core/survival/tally.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <numeric>
#include <random>

namespace milehold::core {
namespace {

struct Rows {
    std::vector<double> at;
    std::vector<std::uint32_t> group;
    std::vector<std::uint16_t> code;
};

Rows randomRows(std::size_t n, std::uint32_t largest, double fraction, std::uint16_t kinds) {
    std::mt19937_64 random(n + largest + kinds);
    Rows rows;
    for (std::size_t i = 0; i < n; ++i) {
        rows.at.push_back(static_cast<double>(random() % (largest + 1)) + fraction);
        rows.group.push_back(static_cast<std::uint32_t>(random() % 3));
        rows.code.push_back(static_cast<std::uint16_t>(random() % kinds));
    }
    return rows;
}

void expectSums(const Rows& rows, std::uint16_t kinds) {
    std::vector<std::uint16_t> kindOfCode(kinds);
    std::iota(kindOfCode.begin(), kindOfCode.end(), std::uint16_t{0});
    Points points;
    points.at = rows.at;
    points.group = rows.group;
    points.code = rows.code;
    points.groups = 3;
    points.kindOfCode = kindOfCode;
    points.kinds = kinds;
    const auto tallies = tallied(points);
    ASSERT_EQ(tallies.size(), 3U);
    for (std::uint32_t g = 0; g < 3; ++g) {
        std::map<double, std::vector<double>> expected;
        for (std::size_t i = 0; i < rows.at.size(); ++i)
            if (rows.group[i] == g) {
                auto& sums = expected[rows.at[i]];
                sums.resize(kinds);
                ++sums[rows.code[i]];
            }
        ASSERT_EQ(tallies[g].at.size(), expected.size());
        std::size_t row = 0;
        for (const auto& [miles, sums] : expected) {
            EXPECT_EQ(tallies[g].at[row], miles);
            for (std::uint16_t k = 0; k < kinds; ++k)
                EXPECT_EQ(tallies[g].sums[k][row], sums[k]) << miles;
            ++row;
        }
    }
}

TEST(Tally, AddsUpForEveryNumberOfKinds) {
    for (std::uint16_t kinds = 1; kinds <= 6; ++kinds)
        expectSums(randomRows(3000, 500, 0, kinds), kinds);
}

TEST(Tally, CountsMoreThanAByteAndMoreThanTwoHold) {
    expectSums(randomRows(3000, 2, 0, 2), 2);   // about 170 to 500 a cell
    expectSums(randomRows(900000, 1, 0, 2), 2); // about 75,000 a cell
    expectSums(randomRows(256 * 6, 0, 0, 2), 2);
}

TEST(Tally, TakesMileagesThatAreNotWholeOrFarApart) {
    expectSums(randomRows(3000, 500, 0.25, 2), 2);
    expectSums(randomRows(50, 2000000000, 0, 2), 2);
}

TEST(SortedRows, AreInTheOrderOfAStableSort) {
    const std::uint32_t largest[] = {0, 30, 150000, (1U << 22U) - 1, 1U << 22U, 4000000000U};
    for (const std::uint32_t most : largest)
        for (const double fraction : {0.0, 0.5}) {
            const Rows rows = randomRows(5000, most, fraction, 1);
            std::vector<std::uint32_t> expected(rows.at.size());
            std::iota(expected.begin(), expected.end(), 0U);
            std::stable_sort(expected.begin(), expected.end(),
                             [&](std::uint32_t a, std::uint32_t b) { return rows.at[a] < rows.at[b]; });
            EXPECT_EQ(sortedRows(rows.at, {}, 1), expected) << most;
            std::stable_sort(expected.begin(), expected.end(),
                             [&](std::uint32_t a, std::uint32_t b) { return rows.group[a] < rows.group[b]; });
            EXPECT_EQ(sortedRows(rows.at, rows.group, 3), expected) << most;
        }
    EXPECT_TRUE(sortedRows({}, {}, 1).empty());
    const std::vector<double> zeros = {1, -0.0, 0.0};
    EXPECT_EQ(sortedRows(zeros, {}, 1), (std::vector<std::uint32_t>{1, 2, 0})) << "-0 is 0";
}

} // namespace
} // namespace milehold::core
