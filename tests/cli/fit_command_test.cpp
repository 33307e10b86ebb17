// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/cli/ask.h"

#include <cmath>

namespace milehold::cli {
namespace {

const std::vector<std::string> kModels = {"weibull", "lognormal", "exponential"};

TEST(FitCommand, NamesWhatTheContractNames) {
    const std::string table = "miles,end\n10,came-back\n20,came-back\n35,came-back\n40,holding\n50,sold\n";
    const std::vector<std::vector<std::string>> own = {{"shape", "scale"}, {"location", "sigma"}, {"mean"}};
    for (std::size_t m = 0; m < kModels.size(); ++m) {
        const Answer answer = ask(table, {"fit", "--model", kModels[m]});
        ASSERT_EQ(answer.code, 0) << answer.err;
        const auto json = answer.json();
        EXPECT_EQ(json["model"], kModels[m]);
        const auto& group = json["groups"][0];
        EXPECT_EQ(group["group"], "all");
        EXPECT_EQ(group["lives"], 5);
        EXPECT_EQ(group["comebacks"], 3);
        for (const std::string& name : own[m])
            EXPECT_TRUE(group[name].is_number()) << name;
        EXPECT_TRUE(group["log_likelihood"].is_number());
        ASSERT_EQ(group["covariance"].size(), own[m].size());
        EXPECT_EQ(group["covariance"][0].size(), own[m].size());
        ASSERT_EQ(group["life"].size(), 2U);
        EXPECT_EQ(group["life"][0]["p"], 0.1);
        EXPECT_EQ(group["life"][1]["p"], 0.5);
        EXPECT_FALSE(group.contains("error"));
    }
}

TEST(FitCommand, WaldLimitsComeFromTheCovariance) {
    // Exponential: mean = 55 / 2 of closed form, variance of its logarithm 1/2; limits t exp(-+ 1.96
    // sqrt(1/2)).
    const Answer answer = ask("miles,end\n10,came-back\n20,came-back\n25,holding\n",
                              {"fit", "--model", "exponential", "--interval", "wald", "--life", "0.25"});
    const auto life = answer.json()["groups"][0]["life"][0];
    const double t = -27.5 * std::log(0.75);
    EXPECT_NEAR(life["miles"].get<double>(), t, 1e-9);
    EXPECT_NEAR(life["lower"].get<double>(), t * std::exp(-1.959963984540054 * std::sqrt(0.5)), 1e-9);
    EXPECT_NEAR(life["upper"].get<double>(), t * std::exp(1.959963984540054 * std::sqrt(0.5)), 1e-8);
}

TEST(FitCommand, AGroupWithoutAMaximumSaysWhyAndTheOthersStand) {
    const Answer answer = ask("miles,end,group\n10,came-back,a\n20,came-back,a\n15,holding,a\n9,holding,b\n"
                              "7,came-back,c\n7,came-back,c\n",
                              {"fit"});
    ASSERT_EQ(answer.code, 0);
    const auto groups = answer.json()["groups"];
    EXPECT_TRUE(groups[0].contains("shape"));
    EXPECT_NE(groups[1]["error"].get<std::string>().find("no comeback"), std::string::npos);
    EXPECT_FALSE(groups[1].contains("shape"));
    EXPECT_NE(groups[2]["error"].get<std::string>().find("one mileage"), std::string::npos);
}

TEST(FitCommand, TheRepresentableEndOfALimitIsNullBeyondIt) {
    // Two comebacks of almost no weight: the likelihood hardly falls, and no double holds the upper limit.
    const Answer answer =
        ask("miles,end,weight\n10,came-back,1e-9\n20,came-back,2e-9\n20,holding,1e-9\n", {"fit"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    const auto life = answer.json()["groups"][0]["life"][0];
    EXPECT_TRUE(life["upper"].is_null());
    EXPECT_TRUE(life["miles"].is_number());
}

TEST(FitCommand, UglyTablesGiveNumbersOrReasonsNeverNotANumber) {
    const std::vector<std::string> tables = {
        "miles,end\n50,came-back\n",
        "miles,end\n50,sold\n60,scrapped\n",
        "miles,end\n0,came-back\n0,holding\n",
        "miles,end\n0,came-back\n0,came-back\n100,holding\n500,came-back\n",
        "miles,end\n10000000,came-back\n10000001,came-back\n15000000,holding\n",
        "miles,end\n0.001,came-back\n0.002,came-back\n0.002,holding\n",
        "miles,end,until\n10,came-back,20\n",
        "miles,end,until\n0,came-back,20\n30,holding,\n0,came-back,90\n",
        "miles,end,entry\n10,came-back,9.9999\n20,came-back,19.9999\n30,came-back,29.999\n",
        "miles,end,entry\n10,came-back,5\n20,came-back,9\n20,holding,19\n",
        "miles,end,weight\n10,came-back,1e12\n20,came-back,2e12\n20,holding,1e12\n"};
    for (const std::string& table : tables) {
        for (const std::string& model : kModels) {
            const Answer answer = ask(table, {"fit", "--model", model, "--at", "15,1e7", "--points"});
            ASSERT_EQ(answer.code, 0) << answer.err;
            for (const auto& group : answer.json()["groups"])
                EXPECT_NE(group.contains("error"), group.contains("life")) << table << model;
        }
    }
}

TEST(FitCommand, RefusesBadOptions) {
    const std::string table = "miles,end\n10,came-back\n20,holding\n";
    expectRefused(ask(table, {"fit", "--model", "gamma"}), 2, "--model");
    expectRefused(ask(table, {"fit", "--life", "1.5"}), 2, "--life");
    expectRefused(ask(table, {"fit", "--interval", "exact"}), 2, "--interval");
    expectRefused(ask(table, {"fit", "--level", "95"}), 2, "--level");
}

} // namespace
} // namespace milehold::cli
