// SPDX-License-Identifier: GPL-3.0-or-later
// Tables nobody would make on purpose: every command answers or refuses in words, at once, with numbers only.
#include "tests/cli/ask.h"

#include <cmath>
#include <random>

namespace milehold::cli {
namespace {

using nlohmann::json;

// Weights so unlike that the mass of one life is below the rounding of the others'.
const std::vector<std::string> kUnlikeWeights = {
    "miles,end,weight\n5,came-back,1e15\n7,came-back,1e15\n9,holding,1e-15\n",
    "miles,end,weight\n5,came-back,0.3\n7,holding,1e-9\n9,came-back,2.5\n9,holding,1e9\n12,came-back,0.1\n",
    "miles,end,weight,until\n5,came-back,1e-15,6\n7,came-back,1e15,20\n9,holding,1,\n"};

TEST(UglyTables, IntervalCurvesOfUnlikeWeightsSettle) {
    for (const std::string& table : kUnlikeWeights) {
        const Answer answer = ask(table, {"curve", "--estimator", "turnbull", "--at", "6,8"});
        ASSERT_EQ(answer.code, 0) << answer.err;
        double mass = 0;
        const json group = answer.json()["groups"][0];
        for (const auto& interval : group["intervals"])
            mass += interval["mass"].get<double>();
        EXPECT_NEAR(mass, 1, 1e-6);
        for (const auto& point : group["at"])
            EXPECT_LE(point["lower"], point["upper"]);
    }
    // Two equal halves came back at 5 and 7: S(6) is a half, and 2e15 lives leave the bootstrap no doubt.
    const json at = ask(kUnlikeWeights[0], {"curve", "--estimator", "turnbull", "--at", "6"})
                        .json()["groups"][0]["at"][0];
    EXPECT_NEAR(at["lower"].get<double>(), 0.5, 1e-6);
    EXPECT_NEAR(at["upper"].get<double>(), 0.5, 1e-6);
}

// Binomial error of a share among so many: sqrt(p (1 - p) / n), n = 4,000,000, p = 1/4.
TEST(UglyTables, TheBootstrapOfManyLivesHasTheBinomialError) {
    const json at = ask("miles,end,weight\n5,came-back,1000000\n9,holding,3000000\n",
                        {"curve", "--estimator", "turnbull", "--at", "6"})
                        .json()["groups"][0]["at"][0];
    const double width = 2 * 1.96 * std::sqrt(0.25 * 0.75 / 4e6);
    EXPECT_NEAR(at["upper"].get<double>() - at["lower"].get<double>(), width, 0.25 * width);
}

TEST(UglyTables, HundredsOfGroupsAreAnsweredOrRefused) {
    std::mt19937 random(3);
    std::string table = "miles,end,group\n";
    for (int g = 0; g < 500; ++g)
        table += std::to_string(1 + random() % 900) + (g % 3 == 0 ? ",sold,g" : ",came-back,g") +
                 std::to_string(g) + "\n";
    const Answer ends = ask(table, {"ends"});
    ASSERT_EQ(ends.code, 0) << ends.err;
    EXPECT_NE(ends.err.find("Gray's test"), std::string::npos);
    EXPECT_TRUE(ends.json()["gray"][0]["p"].is_null());
    EXPECT_EQ(ask(table, {"curve"}).json()["groups"].size(), 500U);
    EXPECT_EQ(ask(table, {"compare"}).code, 0);
    expectRefused(ask(table, {"factors", "--terms", "group"}), 2, "499 terms");
}

// Only one group is still watched when anybody is sold: there is nothing that the test could compare.
TEST(UglyTables, GraysTestOfAnEndThatOneGroupAloneCanMeetIsNone) {
    const Answer answer =
        ask("miles,end,group\n32,came-back,x\n33,came-back,x\n34,came-back,x\n20,came-back,9\n"
            "71,sold,9\n83,came-back,9\n121,holding,9\n122,scrapped,9\n",
            {"ends"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    const json tests = answer.json()["gray"];
    for (const auto& test : tests)
        EXPECT_EQ(test["chi_square"].is_null(), test["end"] != "came-back") << test.dump();
}

TEST(UglyTables, HowATableIsWrittenDoesNotMatter) {
    const std::string plain = "miles,end,group\n5,came-back,a\n7,holding,b\n9,came-back,b\n";
    const std::vector<std::string> others = {
        "miles,end,group\r\n5,came-back,a\r\n7,holding,b\r\n9,came-back,b\r\n",
        "\xEF\xBB\xBFmiles,end,group\n5,came-back,a\n7,holding,b\n9,came-back,b\n",
        "miles,end,group\n5,came-back,a\n7,holding,b\n9,came-back,b",
        "miles,end,group\n5,came-back,a\n7,holding,b\n9,came-back,b\n\n\n",
        "note,group,miles,end\n\"one\ntwo\",a,5,came-back\n\"x, "
        "\"\"y\"\"\",b,\"7\",holding\n,b,9.0,came-back\n"};
    for (const char* const command : {"curve", "compare", "ends", "fit"}) {
        const Answer expected = ask(plain, {command});
        ASSERT_EQ(expected.code, 0) << expected.err;
        for (const std::string& other : others)
            EXPECT_EQ(ask(other, {command}).out, expected.out) << command << "\n" << other;
    }
}

} // namespace
} // namespace milehold::cli
