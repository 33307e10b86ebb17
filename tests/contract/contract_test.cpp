// SPDX-License-Identifier: GPL-3.0-or-later
// The command line is a contract: names of JSON, nothing where nothing exists, and one answer for one table
// however it is written.
#include "tests/contract/run_cli.h"

#include <gtest/gtest.h>

#include <cmath>

namespace milehold::cli_tests {
namespace {

using nlohmann::json;

const std::string kTable =
    "miles,end,group\n30000,came-back,10\n42000,holding,10\n61000,came-back,10\n15000,scrapped,9\n"
    "30000,came-back,9\n80000,holding,9\n";

void expectKeys(const json& object, const std::vector<std::string>& keys) {
    ASSERT_TRUE(object.is_object());
    for (const std::string& key : keys)
        EXPECT_TRUE(object.contains(key)) << key << " in " << object.dump().substr(0, 200);
}

// No number of an answer is other than finite; strings never say so either.
void expectFinite(const Answer& answer) {
    for (const char* const word : {"nan", "inf", "NaN", "Inf"})
        EXPECT_EQ(answer.out.find(word), std::string::npos);
}

TEST(Contract, NamesWhatCurveAnswers) {
    const json curve = answer(kTable, {"curve", "--at", "30000", "--tau", "50000", "--given", "20000"});
    expectKeys(curve, {"estimator", "level", "limits", "groups"});
    EXPECT_EQ(curve["estimator"], "kaplan-meier");
    EXPECT_EQ(curve["limits"], "exact");
    EXPECT_EQ(curve["level"], 0.95);
    ASSERT_EQ(curve["groups"].size(), 2U);
    EXPECT_EQ(curve["groups"][0]["group"], "9"); // in order of number
    const json& group = curve["groups"][1];
    expectKeys(group, {"group", "lives", "comebacks", "longest_watched", "steps", "quantiles", "at",
                       "restricted_mean", "conditional"});
    expectKeys(group["steps"][0], {"miles", "watched", "comebacks", "left", "survival", "se", "lower",
                                   "upper", "cumulative_hazard", "cumulative_hazard_se"});
    ASSERT_EQ(group["quantiles"].size(), 3U);
    EXPECT_EQ(group["quantiles"][1]["p"], 0.5);
    expectKeys(group["quantiles"][0], {"p", "miles", "lower", "upper"});
    expectKeys(group["at"][0], {"miles", "watched", "survival", "se", "lower", "upper"});
    expectKeys(group["restricted_mean"], {"tau", "mean", "se"});
    expectKeys(group["conditional"], {"given", "at"});
    expectKeys(group["conditional"]["at"][0], {"miles", "survival", "lower", "upper"});
    EXPECT_NEAR(group["steps"][0]["survival"].get<double>(), 2.0 / 3, 1e-15);
    EXPECT_EQ(group["steps"][2]["survival"], 0);
    EXPECT_TRUE(group["steps"][2]["se"].is_null());
}

TEST(Contract, NamesWhatCompareAnswers) {
    const json compare = answer(kTable, {"compare", "--trend"});
    expectKeys(compare, {"rho", "chi_square", "df", "p", "groups", "trend", "permutation_p"});
    expectKeys(compare["groups"][0], {"group", "lives", "observed", "expected"});
    expectKeys(compare["trend"], {"chi_square", "p"});
    EXPECT_EQ(compare["df"], 1);
    EXPECT_TRUE(answer(kTable, {"compare"})["trend"].is_null());
}

TEST(Contract, NamesWhatEndsAnswers) {
    const json ends = answer(kTable, {"ends", "--at", "30000,90000"});
    ASSERT_EQ(ends["groups"].size(), 2U);
    const json& ten = ends["groups"][1];
    ASSERT_EQ(ten["ends"].size(), 2U); // also the one that this group does not have
    expectKeys(ten["ends"][1], {"end", "count", "steps", "at"});
    EXPECT_EQ(ten["ends"][1]["end"], "scrapped");
    EXPECT_EQ(ten["ends"][1]["count"], 0);
    EXPECT_EQ(ten["ends"][1]["steps"].size(), 2U);
    EXPECT_EQ(ten["ends"][1]["steps"][0]["incidence"], 0);
    EXPECT_TRUE(ten["ends"][0]["at"][1]["incidence"].is_null());
    EXPECT_TRUE(ten["ends"][0]["at"][1]["se"].is_null());
}

TEST(Contract, NamesWhatRepeatsAnswers) {
    const json repeats = answer(
        "vehicle,miles,end\na,10,came-back\na,30,holding\nb,20,came-back\nb,20,came-back\n", {"repeats"});
    const json& group = repeats["groups"][0];
    EXPECT_EQ(group["group"], "all");
    EXPECT_EQ(group["vehicles"], 2);
    ASSERT_EQ(group["steps"].size(), 2U);
    expectKeys(group["steps"][0], {"miles", "mean", "se", "lower", "upper"});
    EXPECT_EQ(group["steps"][1]["mean"], 1.5);
}

TEST(Contract, WritesDoublesWithSeventeenDigits) {
    const Answer answer =
        run({"curve", "--csv", "-", "--format", "json"}, "miles,end\n0.1,came-back\n3,holding\n3,holding\n");
    EXPECT_NE(answer.out.find("\"miles\":0.10000000000000001"), std::string::npos) << answer.out;
    EXPECT_NE(answer.out.find("\"survival\":0.66666666666666663"), std::string::npos);
}

TEST(Contract, ReadsATableHoweverItIsWritten) {
    const Answer plain = run({"curve", "--csv", "-", "--format", "json"}, kTable);
    const TemporaryFolder folder;
    const std::string other =
        "\xEF\xBB\xBF\"group\",note,end,\"miles\"\r\n10,\"a, \"\"b\"\"\r\n\xC3\xBC\",came-back,30000.0\r\n"
        "10,,holding,4.2e4\r\n10,,\"came-back\",61000\r\n9,,scrapped,15000\r\n9,,came-back,30000\r\n\r\n"
        "9,,holding,\"80000\"";
    const Answer quoted = run({"curve", "--format", "json", "--csv", folder.write("lives.csv", other)});
    EXPECT_EQ(quoted.err, "");
    EXPECT_EQ(plain.out, quoted.out);
}

TEST(Contract, TakesMileagesAsWritten) {
    const json curve =
        answer("miles,end\n460,came-back\n460.0000001,came-back\n10000000,holding\n", {"curve"});
    ASSERT_EQ(curve["groups"][0]["steps"].size(), 3U);
    EXPECT_EQ(curve["groups"][0]["steps"][1]["miles"].get<double>(), 460.0000001);
    EXPECT_EQ(curve["groups"][0]["longest_watched"].get<double>(), 1e7);
    const Answer warned = run({"curve", "--csv", "-"}, "miles,end\n460,came-back\n460.0000001,came-back\n");
    EXPECT_EQ(warned.exitCode, 0);
    EXPECT_NE(warned.err.find("differ by less than a millionth and are not ties"), std::string::npos);
}

TEST(Contract, SaysSoWhenAnEndIsNearlyOneOfTheFixedWords) {
    const Answer warned = run({"curve", "--csv", "-"}, "miles,end\n460,Came-Back\n500,holding\n");
    EXPECT_EQ(warned.exitCode, 0);
    EXPECT_NE(warned.err.find("'Came-Back' is taken as an end of its own, not as came-back"),
              std::string::npos);
}

TEST(Contract, CountsStrataOnlyWhenAsked) {
    const std::string table =
        "miles,end,group,stratum\n1,came-back,a,x\n2,came-back,b,y\n3,came-back,a,y\n4,holding,b,x\n";
    const std::string bare = "miles,end,group\n1,came-back,a\n2,came-back,b\n3,came-back,a\n4,holding,b\n";
    EXPECT_EQ(answer(table, {"compare"}), answer(bare, {"compare"}));
    EXPECT_NE(answer(table, {"compare", "--stratum"})["groups"], answer(bare, {"compare"})["groups"]);
}

TEST(Contract, AnswersUglyTablesWithoutAnInfinityAnywhere) {
    const std::vector<std::string> tables = {
        "miles,end\n5,came-back\n",
        "miles,end\n5,holding\n",
        "miles,end\n0,came-back\n",
        "miles,end\n0,holding\n",
        "miles,end\n7,came-back\n7,came-back\n7,came-back\n",
        "miles,end,group\n7,came-back,a\n7,came-back,b\n",
        "miles,end,group\n7,holding,a\n9,holding,b\n",
        "miles,end,group\n7,came-back,a\n9,scrapped,b\n0,came-back,c\n",
        "miles,end,entry\n5,came-back,0\n20,came-back,8\n30,holding,9\n",
        "miles,end,weight\n5,came-back,0.001\n6,holding,1000000\n7,came-back,0.3\n",
        "miles,end,weight\n5,came-back,1e-300\n6,holding,1e300\n7,came-back,1e-300\n",
        "miles,end\n1e-300,came-back\n1e300,came-back\n1e307,holding\n",
    };
    for (const std::string& table : tables)
        for (const std::vector<std::string>& command : std::vector<std::vector<std::string>>{
                 {"curve", "--at", "0,5,1e6"},
                 {"curve", "--limits", "exact-mid-p"},
                 {"curve", "--limits", "log-log", "--given", "5", "--at", "6"},
                 {"curve", "--limits", "log"},
                 {"curve", "--limits", "linear"},
                 {"compare", "--trend"},
                 {"compare", "--rho", "-1"},
                 {"ends", "--at", "5"}})
            for (const char* const format : {"json", "csv", "text"}) {
                std::vector<std::string> arguments = command;
                arguments.insert(arguments.end(), {"--csv", "-", "--format", format});
                const Answer answer = run(arguments, table);
                EXPECT_EQ(answer.exitCode, 0) << command[0] << " on " << table << answer.err;
                expectFinite(answer);
            }
}

TEST(Contract, AnswersAHundredThousandRowsWithHeavyTies) {
    std::string table = "miles,end,group\n";
    for (int i = 0; i < 100000; ++i)
        table += std::to_string(1000 * (i % 17)) + (i % 3 == 0 ? ",came-back," : ",holding,") +
                 (i == 4711 ? "single\n" : "rest\n");
    const json curve = answer(table, {"curve"});
    EXPECT_EQ(curve["groups"][0]["lives"], 99999);
    EXPECT_EQ(curve["groups"][0]["steps"].size(), 17U);
    EXPECT_EQ(curve["groups"][1]["lives"], 1);
    EXPECT_EQ(answer(table, {"compare"})["df"], 1);
}

TEST(Contract, AnswersFromStandardInputAndInTwoFurtherForms) {
    const Answer text = run({"curve", "--csv", "-"}, kTable);
    EXPECT_EQ(text.exitCode, 0);
    EXPECT_NE(text.out.find("Group 10\n"), std::string::npos);
    const Answer csv = run({"curve", "--csv", "-", "--format", "csv"}, kTable);
    EXPECT_EQ(csv.out.rfind("part,group,lives,comebacks,longest_watched,miles,", 0), 0U);
    EXPECT_NE(csv.out.find("\nstep,10,,1,,30000,3,0,0.6666666666666666,"), std::string::npos) << csv.out;
}

TEST(Contract, HelpsOnStandardOutput) {
    for (const std::vector<std::string>& arguments :
         std::vector<std::vector<std::string>>{{"--help"}, {"curve", "--help"}, {"--version"}}) {
        const Answer help = run(arguments);
        EXPECT_EQ(help.exitCode, 0);
        EXPECT_FALSE(help.out.empty());
        EXPECT_EQ(help.err, "");
    }
}

} // namespace
} // namespace milehold::cli_tests
