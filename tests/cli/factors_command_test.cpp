// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/cli/ask.h"

namespace milehold::cli {
namespace {

std::string table(const std::string& header, const std::vector<std::string>& tails) {
    // Mileages and ends that neither column orders by itself.
    const char* const lives[] = {"3,came-back",  "5,holding",    "6,came-back",  "8,came-back",
                                 "9,holding",    "11,came-back", "12,came-back", "15,holding",
                                 "16,came-back", "20,holding",   "21,came-back", "25,holding"};
    std::string text = header + "\n";
    for (std::size_t i = 0; i < tails.size(); ++i)
        text += std::string(lives[i % 12]) + "," + tails[i] + "\n";
    return text;
}

const std::vector<std::string> kTwo = {"1,2", "0,5", "0,3", "1,1", "1,4", "0,2",
                                       "1,5", "0,1", "1,3", "0,4", "0,2", "1,2"};

TEST(FactorsCommand, NamesWhatTheContractNames) {
    const Answer answer = ask(table("miles,end,a,b", kTwo), {"factors", "--terms", "a,b"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    const auto json = answer.json();
    EXPECT_EQ(json["ties"], "efron");
    EXPECT_EQ(json["lives"], 12);
    EXPECT_EQ(json["comebacks"], 7);
    ASSERT_EQ(json["terms"].size(), 2U);
    for (const char* name : {"coefficient", "se", "hazard_ratio", "lower", "upper", "z", "p"})
        EXPECT_TRUE(json["terms"][0][name].is_number()) << name;
    EXPECT_TRUE(json["terms"][0]["robust_se"].is_null());
    for (const char* name : {"likelihood_ratio", "score", "wald"}) {
        EXPECT_TRUE(json[name]["chi_square"].is_number()) << name;
        EXPECT_EQ(json[name]["df"], 2);
    }
    EXPECT_TRUE(json["log_likelihood"].get<double>() >= json["log_likelihood_null"].get<double>());
    ASSERT_EQ(json["proportional_hazards"].size(), 3U);
    EXPECT_EQ(json["proportional_hazards"][2]["term"], "all");
}

TEST(FactorsCommand, WordsBecomeLevelsAgainstTheFirst) {
    const Answer answer =
        ask(table("miles,end,part", {"chain", "valve", "phaser", "valve", "chain", "phaser", "chain",
                                     "phaser", "valve", "chain", "valve", "phaser"}),
            {"factors", "--terms", "part"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    EXPECT_EQ(answer.json()["terms"][0]["term"], "part=phaser");
    EXPECT_EQ(answer.json()["terms"][1]["term"], "part=valve");
}

TEST(FactorsCommand, ClusterGivesRobustErrorsThatZFollows) {
    std::vector<std::string> tails = kTwo;
    for (std::size_t i = 0; i < tails.size(); ++i)
        tails[i] += ",v" + std::to_string(i / 2);
    const auto json =
        ask(table("miles,end,a,b,vehicle", tails), {"factors", "--terms", "a,b", "--cluster"}).json();
    const auto& term = json["terms"][0];
    ASSERT_TRUE(term["robust_se"].is_number());
    EXPECT_NEAR(term["z"].get<double>(), term["coefficient"].get<double>() / term["robust_se"].get<double>(),
                1e-12);
}

TEST(FactorsCommand, RefusesWhatHasNoCoefficientByName) {
    std::vector<std::string> constant, follows, separates;
    const std::string base = table("miles,end,a,b", kTwo);
    for (std::size_t i = 0; i < kTwo.size(); ++i) {
        constant.push_back("7," + std::to_string(i % 5));
        follows.push_back(std::to_string(i % 3) + "," + std::to_string(2 * (i % 3) + 1));
        const bool back = i == 0 || i == 2 || i == 3 || i == 5 || i == 6 || i == 8 || i == 10;
        separates.push_back(std::string(back ? "1" : "0") + "," + std::to_string(i % 5));
    }
    const std::vector<std::string> words = {"factors", "--terms", "a,b"};
    expectRefused(ask(table("miles,end,a,b", constant), words), 1, "a is the same");
    expectRefused(ask(table("miles,end,a,b", follows), words), 1, "b follows");
    expectRefused(ask(table("miles,end,a,b", separates), words), 1, "a separates");
    expectRefused(ask("miles,end,a,b\n5,holding,1,2\n6,holding,0,3\n", words), 1, "no comeback");
}

TEST(FactorsCommand, NamesTheLineOfABadCell) {
    std::vector<std::string> blank = kTwo, fraction = kTwo;
    blank[3] = ",1";
    for (std::string& tail : fraction)
        tail += ",2";
    fraction[4] = "1,4,2.5";
    expectRefused(ask(table("miles,end,a,b", blank), {"factors", "--terms", "a,b"}), 2, ":5: column a");
    expectRefused(ask(table("miles,end,a,b,weight", fraction), {"factors", "--terms", "a,b"}), 2,
                  ":6: column weight");
    expectRefused(ask(table("miles,end,a,b", kTwo), {"factors", "--terms", "c"}), 2, "'c'");
    expectRefused(ask(table("miles,end,a,b", kTwo), {"factors"}), 2, "--terms");
}

TEST(FactorsCommand, AdjustedCurvesFallAndKeepTheOrderOfTheHazards) {
    const auto json =
        ask(table("miles,end,a,b", kTwo), {"factors", "--terms", "a,b", "--adjust", "a", "--at", "5,20"})
            .json();
    ASSERT_EQ(json["adjusted"].size(), 2U);
    const auto survival = [&](int curve, int at) {
        return json["adjusted"][curve]["at"][at]["survival"].get<double>();
    };
    EXPECT_GT(survival(0, 0), survival(0, 1));
    const bool worse = json["terms"][0]["coefficient"].get<double>() > 0;
    EXPECT_EQ(survival(0, 1) > survival(1, 1), worse);
}

} // namespace
} // namespace milehold::cli
