// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/exchange/cells.h"

#include <gtest/gtest.h>

#include <random>

namespace milehold::test {

using core::Distance;
using core::DistanceUnit;
using storage::guarded;
using storage::joinedList;
using storage::splitList;
using storage::unguarded;

TEST(Cells, AFormulaNeverReachesASpreadsheet) {
    for (const char* text : {"=1+1", "+1 555", "-5", "@SUM(A1)", "  =1", "\t=1", "\r=1", "\n=1",
                             "\xEF\xBC\x9D"
                             "1"})
        EXPECT_EQ(guarded(text), std::string("'") + text);
    for (const char* text : {"", "plain", "1-2", "a=b", "'quoted'", "'", "  x"})
        EXPECT_EQ(guarded(text), text);
}

TEST(Cells, AGuardIsTakenAwayOnlyWhereItWasAdded) {
    for (const char* text : {"=1", "'=1", "''=1", "'", "''", "'a'", "' =1", "-", "", "'+", "plain"})
        EXPECT_EQ(unguarded(guarded(text)), text);
    EXPECT_EQ(unguarded("'twas"), "'twas");
}

TEST(Cells, CellsAreQuotedAsRfc4180Says) {
    EXPECT_EQ(storage::csvCell("plain"), "plain");
    EXPECT_EQ(storage::csvCell("a,b"), "\"a,b\"");
    EXPECT_EQ(storage::csvCell("say \"so\""), "\"say \"\"so\"\"\"");
    EXPECT_EQ(storage::csvCell("two\nlines"), "\"two\nlines\"");
    // Found by fuzzing: first in a file, it would be read as the file's mark (Unicode 15, 23.8).
    EXPECT_EQ(storage::csvCell("\xEF\xBB\xBF"
                               "name"),
              "\"\xEF\xBB\xBF"
              "name\"");
}

TEST(Cells, AnyListComesBackAsItWas) {
    EXPECT_EQ(joinedList({"a", "b c"}, ';'), "a; b c");
    EXPECT_EQ(splitList("a;b c ;  d", ';'), (std::vector<std::string>{"a", "b c", "d"}));
    EXPECT_EQ(splitList("", ';'), std::vector<std::string>{});
    EXPECT_EQ(splitList("a;", ';'), (std::vector<std::string>{"a", ""}));
    EXPECT_EQ(splitList("\"open", ';'), std::nullopt);
    EXPECT_EQ(splitList("\"a\"b", ';'), std::nullopt);
    std::mt19937 random(11); // NOLINT: a fixed seed is the point
    const std::string letters = "ab;| \"\n'=";
    for (int round = 0; round < 2'000; ++round) {
        std::vector<std::string> entries(random() % 4);
        for (auto& entry : entries)
            for (auto length = random() % 5; length > 0; --length)
                entry += letters[random() % letters.size()];
        ASSERT_EQ(splitList(joinedList(entries, ';'), ';'), entries);
        ASSERT_EQ(splitList(joinedList({joinedList(entries, '|')}, ';'), ';'),
                  std::vector<std::string>{joinedList(entries, '|')});
    }
}

TEST(Cells, EveryDistanceComesBackExactly) {
    EXPECT_EQ(storage::distanceCell(Distance::miles(50'000), DistanceUnit::Miles), "50000");
    EXPECT_EQ(storage::distanceCell(Distance::kilometres(7), DistanceUnit::Miles), "7000 m");
    EXPECT_EQ(storage::distanceFromCell("50000 mi", DistanceUnit::Kilometres), Distance::miles(50'000));
    EXPECT_EQ(storage::distanceFromCell("12 km", DistanceUnit::Miles), Distance::kilometres(12));
    for (const std::int64_t metres :
         {std::int64_t{0}, std::int64_t{1}, std::int64_t{1609}, std::int64_t{80'467'123}})
        for (const auto unit : {DistanceUnit::Miles, DistanceUnit::Kilometres}) {
            const auto distance = Distance::fromMetres(metres);
            EXPECT_EQ(storage::distanceFromCell(storage::distanceCell(distance, unit), unit), distance);
        }
    for (const char* cell :
         {"", "far", "50,000", "50 000", "5e4", "12.5", "12mi", " 12", "99999999999", "+5"})
        EXPECT_EQ(storage::distanceFromCell(cell, DistanceUnit::Miles), std::nullopt) << cell;
}

} // namespace milehold::test
