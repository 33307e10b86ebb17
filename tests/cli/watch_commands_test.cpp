// SPDX-License-Identifier: GPL-3.0-or-later
// Commands about few comebacks, early warning and planning, on tables.
#include "tests/cli/ask.h"

#include <cmath>

namespace milehold::cli {
namespace {

using nlohmann::json;

// Two groups of unlike size and one that was hardly watched.
const std::string kThree = "miles,end,group\n10,came-back,a\n20,came-back,a\n35,came-back,a\n40,holding,a\n"
                           "15,came-back,b\n60,holding,b\n70,holding,b\n55,holding,b\n0,holding,c\n";

TEST(PooledCommand, StandsBetweenTheGroupAndTheOthers) {
    const Answer answer = ask(kThree, {"pooled", "--at", "30,60"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    const json pooled = answer.json();
    const double shape = pooled["shape"], unit = pooled["unit_miles"];
    ASSERT_EQ(pooled["groups"].size(), 3U);
    for (const auto& group : pooled["groups"])
        for (const auto& point : group["at"]) {
            if (point["own"].is_null())
                continue;
            // exp(-d/E x), x = (miles / unit)^shape.
            const double x = std::pow(point["miles"].get<double>() / unit, shape);
            EXPECT_NEAR(point["own"].get<double>(),
                        std::exp(-group["comebacks"].get<double>() / group["exposure"].get<double>() * x),
                        1e-12);
            EXPECT_LT(point["lower"], point["survival"]);
            EXPECT_GT(point["upper"], point["survival"]);
        }
    const json none = pooled["groups"][2];
    EXPECT_EQ(none["weight_from_others"], 1);
    EXPECT_TRUE(none["at"][0]["own"].is_null());
    const double a = pooled["groups"][0]["at"][0]["survival"], b = pooled["groups"][1]["at"][0]["survival"];
    EXPECT_LT(a, none["at"][0]["survival"].get<double>());
    EXPECT_GT(b, none["at"][0]["survival"].get<double>());
    expectRefused(ask("miles,end\n5,came-back\n9,holding\n", {"pooled"}), 2, "two");
    expectRefused(ask("miles,end,group\n5,holding,a\n9,holding,b\n", {"pooled"}), 1, "no comeback");
}

// Two of eight never held. B10 of all says only that; of the other six it is that of the six alone.
TEST(FitCommand, ShowsThoseThatHeldBesideThoseThatNeverDid) {
    const std::string six = "1000,came-back\n3000,came-back\n5000,came-back\n9000,holding\n12000,came-back\n"
                            "20000,holding\n";
    const Answer answer = ask("miles,end\n0,came-back\n0,came-back\n" + six, {"fit"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    EXPECT_NE(answer.err.find("25 % never held"), std::string::npos) << answer.err;
    const json group = answer.json()["groups"][0];
    EXPECT_EQ(group["never_held"], 0.25);
    const json alone = ask("miles,end\n" + six, {"fit"}).json()["groups"][0];
    EXPECT_EQ(alone["never_held"], 0);
    EXPECT_FALSE(alone.contains("of_those_that_held"));
    const json held = group["of_those_that_held"];
    EXPECT_EQ(held["lives"], 6);
    EXPECT_EQ(held["comebacks"], 4);
    EXPECT_EQ(held["shape"], alone["shape"]);
    EXPECT_EQ(held["life"], alone["life"]);
    EXPECT_LT(group["life"][0]["miles"], held["life"][0]["miles"]);
    const Answer intervals = ask("miles,end,until\n0,came-back,\n1000,came-back,2000\n3000,came-back,4000\n"
                                 "9000,holding,\n",
                                 {"fit"});
    EXPECT_EQ(intervals.json()["groups"][0]["of_those_that_held"]["lives"], 3);
    const Answer none = ask("miles,end\n0,came-back\n0,came-back\n10,holding\n", {"fit"});
    EXPECT_TRUE(none.json()["groups"][0]["of_those_that_held"].contains("error"));
}

// One-sided lower limit of an exponential mean without comebacks: T / -ln(1 - level).
// Source: Nelson 1985, J Quality Technology 17:140.
TEST(FitCommand, AssumedShapesStandWhereThereIsNoFit) {
    const Answer answer =
        ask("miles,end\n10000,holding\n20000,holding\n", {"fit", "--assumed-shapes", "1,2", "--at", "5000"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    const json group = answer.json()["groups"][0];
    EXPECT_TRUE(group.contains("error"));
    const json shapes = group["assumed"]["shapes"];
    EXPECT_TRUE(shapes[0]["scale"].is_null());
    EXPECT_NEAR(shapes[0]["lower_scale"].get<double>(), 30000 / -std::log(0.05), 1e-6);
    EXPECT_NEAR(shapes[1]["lower_scale"].get<double>(), std::sqrt(5e8 / -std::log(0.05)), 1e-6);
    const double atOne = std::exp(-5000 / (30000 / -std::log(0.05)));
    EXPECT_NEAR(group["assumed"]["at"][0]["lower"].get<double>(), atOne, 1e-12);
    EXPECT_EQ(group["assumed"]["at"][0]["shape"], 1);
    expectRefused(ask("miles,end\n5,came-back\n", {"fit", "--assumed-shapes", "0"}), 2, "--assumed-shapes");
}

// 65.3 comebacks by Schoenfeld 1981, 71 by Freedman 1982 (table 1) for a ratio of 2, 80 % power, 5 %
// two-sided.
TEST(PlanCommand, GivesThePublishedNumbers) {
    const Answer answer =
        askWith({"plan", "--comeback-share", "0.25", "--comebacks", "65.345", "--format", "json"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    const json plan = answer.json();
    EXPECT_NEAR(plan["comebacks_needed"]["schoenfeld"].get<double>(), 65.3, 0.05);
    EXPECT_NEAR(plan["comebacks_needed"]["freedman"].get<double>(), 71, 0.5);
    EXPECT_NEAR(plan["jobs_needed"]["schoenfeld"].get<double>(),
                4 * plan["comebacks_needed"]["schoenfeld"].get<double>(), 1e-9);
    EXPECT_NEAR(plan["power_with_comebacks"].get<double>(), 0.8, 1e-4);
    expectRefused(askWith({"plan", "--ratio", "1"}), 2, "--ratio");
    expectRefused(askWith({"plan", "--power", "1.2"}), 2, "--power");
}

TEST(FunnelCommand, CountsAgainstAllTogether) {
    // By hand: the hazard of all lives is 1/4 at 1 and 1/2 at 3.
    const json answer =
        ask("miles,end,group\n1,came-back,a\n2,holding,b\n3,came-back,b\n4,holding,a\n", {"funnel"}).json();
    const json a = answer["groups"][0], b = answer["groups"][1];
    EXPECT_NEAR(a["expected"].get<double>(), 0.25 + 0.75, 1e-15);
    EXPECT_NEAR(b["expected"].get<double>(), 0.25 + 0.75, 1e-15);
    EXPECT_EQ(a["observed"], 1);
    EXPECT_EQ(answer["over_dispersion"], 1);
    EXPECT_TRUE(answer["expected_by"].is_null());
    expectRefused(ask("miles,end\n4,holding\n", {"funnel"}), 1, "none");
    // In strata, by hand: at 1 two of three come back in x, nobody in y.
    const std::string strata = "miles,end,group,stratum\n1,came-back,a,x\n2,holding,a,x\n1,holding,b,y\n"
                               "1,came-back,b,x\n";
    const json apart = ask(strata, {"funnel", "--stratum"}).json();
    EXPECT_EQ(apart["expected_by"], "stratum");
    EXPECT_NEAR(apart["groups"][0]["expected"].get<double>(), 4.0 / 3, 1e-15) << "2/3 for each of its two";
    EXPECT_NEAR(apart["groups"][1]["expected"].get<double>(), 2.0 / 3, 1e-15);
    expectRefused(ask("miles,end\n1,came-back\n", {"funnel", "--stratum"}), 2, "stratum");
}

TEST(EarlyWarningCommand, WarnsOfTheFastPartOnly) {
    // Days that jobs last: usual parts come back at 200 to 1,000 days, the new one at 10 to 100.
    std::string table = "miles,end,group,entered\n";
    for (int i = 0; i < 40; ++i) {
        const std::string enters = std::to_string(20 * i);
        table += std::to_string(200 + 20 * i) + (i % 4 == 0 ? ",came-back" : ",holding") + ",usual," +
                 enters + "\n" + std::to_string(230 + 20 * i) + (i % 4 == 1 ? ",came-back" : ",holding") +
                 ",other," + enters + "\n" + std::to_string(10 + 2 * i) + ",came-back,fast," + enters + "\n";
    }
    const Answer answer = ask(table, {"early-warning", "--runs", "400"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    const json groups = answer.json()["groups"];
    ASSERT_EQ(groups[0]["group"], "fast");
    ASSERT_TRUE(groups[0]["alarm"].is_number());
    EXPECT_LT(groups[0]["alarm"], 200);
    EXPECT_TRUE(groups[2]["alarm"].is_null()) << groups[2].dump();
    // 1 - 0.95^3, of three that are watched.
    EXPECT_NEAR(answer.json()["false_alarm_of_any"].get<double>(), 0.142625, 1e-12);
    // The first comeback lifts the sum from 0 by the logarithm of the ratio.
    EXPECT_NEAR(groups[0]["points"][0]["value"].get<double>(), std::log(2), 1e-12);
    // The same seed, the same limit.
    EXPECT_EQ(ask(table, {"early-warning", "--runs", "400"}).out, answer.out);
    expectRefused(ask(table, {"early-warning", "--ratio", "1"}), 2, "--ratio");
    expectRefused(ask("miles,end\n5,came-back\n", {"early-warning"}), 2, "entered");
}

// A column that no double could be written into was cut off in the text form.
TEST(TextForm, WritesWhatNoVehicleRunsAsAPowerOfTen) {
    std::string file = std::filesystem::temp_directory_path() / "milehold-cli-wide.csv";
    std::ofstream(file)
        << "miles,end\n29000,came-back\n60,came-back\n30000,holding\n30000,holding\n40,holding\n"
           "30000,holding\n30000,holding\n30000,holding\n30000,holding\n30000,holding\n";
    const Answer answer = askWith({"fit", "--csv", file, "--level", "0.99"});
    std::filesystem::remove(file);
    ASSERT_EQ(answer.code, 0) << answer.err;
    for (std::size_t at = 0; (at = answer.out.find_first_of("0123456789", at)) != std::string::npos;) {
        const std::size_t end = answer.out.find_first_not_of("0123456789.", at);
        EXPECT_LT(end - at, 20U) << answer.out.substr(at, end - at);
        at = end;
    }
    EXPECT_NE(answer.out.find("e+"), std::string::npos) << answer.out;
}

} // namespace
} // namespace milehold::cli
