// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/cli/ask.h"

#include <cmath>

namespace milehold::cli {
namespace {

const std::string kTable =
    "miles,end,yearly_miles\n10000,came-back,5000\n40000,came-back,12000\n50000,holding,30000\n";

TEST(WarrantyCommand, AveragesOverTheDriversOfTheTable) {
    // Exponential by hand: mean 100,000 / 2; covered 10,000, 24,000 and 24,000 miles under 24 months or
    // 24,000 miles.
    const Answer answer = ask(kTable, {"warranty", "--months", "24", "--miles", "24000", "--model",
                                       "exponential", "--jobs", "50", "--cost-each", "400"});
    ASSERT_EQ(answer.code, 0) << answer.err;
    const auto group = answer.json()["groups"][0];
    const double share = (2 * -std::expm1(-0.48) - std::expm1(-0.2)) / 3;
    EXPECT_NEAR(group["share"]["value"].get<double>(), share, 1e-9);
    EXPECT_NEAR(group["expected_comebacks"]["value"].get<double>(), 50 * share, 1e-7);
    EXPECT_NEAR(group["expected_cost"]["value"].get<double>(), 20000 * share, 1e-5);
    EXPECT_LE(group["share"]["lower"].get<double>(), share);
    EXPECT_GE(group["share"]["upper"].get<double>(), share);
    const Answer one = ask(kTable, {"warranty", "--months", "24", "--miles", "24000", "--model",
                                    "exponential", "--yearly-miles", "5000"});
    EXPECT_NEAR(one.json()["groups"][0]["share"]["value"].get<double>(), -std::expm1(-0.2), 1e-9);
}

TEST(WarrantyCommand, RefusesInWords) {
    expectRefused(ask(kTable, {"warranty", "--miles", "24000"}), 2, "--months");
    expectRefused(ask(kTable, {"warranty", "--months", "24", "--miles", "0"}), 2, "--miles");
    expectRefused(ask("miles,end\n10,came-back\n", {"warranty", "--months", "24", "--miles", "24000"}), 2,
                  "yearly_miles");
    const Answer none = ask("miles,end\n10,holding\n",
                            {"warranty", "--months", "24", "--miles", "24000", "--yearly-miles", "12000"});
    EXPECT_EQ(none.code, 0);
    EXPECT_TRUE(none.json()["groups"][0]["error"].is_string());
}

} // namespace
} // namespace milehold::cli
