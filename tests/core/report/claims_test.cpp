// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/report/claims.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using namespace testing_support;

const Date kToday = day("2031-05-16");

Job claim(std::uint8_t number, ClaimState state, const char* deadline) {
    Job made = repair(number, "2031-04-01", 50'000);
    made.number = number;
    made.claimState = state;
    if (*deadline != '\0')
        made.claimDeadline = day(deadline);
    return made;
}

// The thirty days and the order are common practice, no published source.
TEST(Claims, AreUrgentOnlyWhileTheyWaitToBeFiled) {
    struct Row {
        ClaimState state;
        const char* deadline;
        ClaimUrgency urgency;
    };
    for (const Row& row : {Row{ClaimState::ToFile, "2031-05-15", ClaimUrgency::Past},
                           Row{ClaimState::ToFile, "2031-05-16", ClaimUrgency::Near},
                           Row{ClaimState::ToFile, "2031-06-15", ClaimUrgency::Near},
                           Row{ClaimState::ToFile, "2031-06-16", ClaimUrgency::None},
                           Row{ClaimState::ToFile, "", ClaimUrgency::None},
                           Row{ClaimState::Filed, "2031-05-15", ClaimUrgency::None},
                           Row{ClaimState::Credited, "2031-05-20", ClaimUrgency::None},
                           Row{ClaimState::Denied, "2031-05-20", ClaimUrgency::None},
                           Row{ClaimState::Lapsed, "2031-05-15", ClaimUrgency::None}})
        EXPECT_EQ(urgencyOf(claim(1, row.state, row.deadline), kToday), row.urgency)
            << static_cast<int>(row.state) << " " << row.deadline;
}

TEST(Claims, ComeMostPressingFirstAndTellTheirVehicle) {
    std::vector<Job> jobs{
        claim(1, ClaimState::Denied, "2031-01-01"), claim(2, ClaimState::Filed, "2031-02-01"),
        claim(3, ClaimState::ToFile, ""),           claim(4, ClaimState::ToFile, "2031-09-01"),
        claim(5, ClaimState::ToFile, "2031-06-01"), claim(6, ClaimState::ToFile, "2031-05-01"),
        claim(7, ClaimState::ToFile, "2031-04-20"), claim(8, ClaimState::None, "2031-04-20"),
        claim(9, ClaimState::ToFile, "2031-04-20")};
    jobs[8].voidReason = "typed twice";
    jobs[0].comebackCosts.credit = Money{5};
    jobs[5].claimAmount = Money{700};
    LifeRecord life;
    life.life.vehicle = jobs[0].vehicle;
    life.vehicleLabel = "Hollin Tallow 2019";
    const auto claims = claimsOf(jobs, std::vector{life}, kToday);
    std::vector<std::int64_t> order;
    for (const ClaimRow& row : claims)
        order.push_back(row.jobNumber);
    EXPECT_EQ(order, (std::vector<std::int64_t>{7, 6, 5, 4, 3, 2, 1}));
    EXPECT_EQ(claims[1].claimed, Money{700});
    EXPECT_EQ(claims[6].credited, Money{5});
    EXPECT_EQ(claims[0].vehicleLabel, "Hollin Tallow 2019");
    EXPECT_EQ(claimsDue(claims), 3);
    EXPECT_TRUE(isOpen(ClaimState::ToFile) && isOpen(ClaimState::Filed));
    EXPECT_FALSE(isOpen(ClaimState::Lapsed) || isOpen(ClaimState::Credited) || isOpen(ClaimState::None));
}

} // namespace
} // namespace milehold::core
