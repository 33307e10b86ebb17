// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quantity/distance.h"

#include <gtest/gtest.h>

#include <random>

namespace milehold::core {
namespace {

// The mile is 1,609.344 m exactly. Source: international yard and pound agreement, 1959.
static_assert(Distance::miles(1000).metres() == 1'609'344);
static_assert(Distance::miles(125).metres() == 201'168);
static_assert(Distance::kilometres(7).metres() == 7'000);

TEST(Distance, HoldsAHundredThousandMilesAsExactKilometres) {
    EXPECT_DOUBLE_EQ(Distance::miles(100'000).in(DistanceUnit::Kilometres), 160'934.4);
    EXPECT_DOUBLE_EQ(Distance::fromMetres(160'934'400).in(DistanceUnit::Miles), 100'000.0);
}

TEST(Distance, GivesEveryWholeNumberBackNearTheEnds) {
    for (const auto unit : {DistanceUnit::Miles, DistanceUnit::Kilometres})
        for (std::int64_t step = 0; step <= 5'000; ++step)
            for (const std::int64_t count : {step, -step, Distance::kMost - step, step - Distance::kMost})
                ASSERT_EQ(Distance::from(count, unit).whole(unit), count);
}

TEST(Distance, GivesWholeNumbersBackAllOverTheRange) {
    std::mt19937_64 random(20310409);
    std::uniform_int_distribution<std::int64_t> anywhere(-Distance::kMost, Distance::kMost);
    for (int i = 0; i < 200'000; ++i) {
        const std::int64_t count = anywhere(random);
        ASSERT_EQ(Distance::miles(count).whole(DistanceUnit::Miles), count);
        ASSERT_EQ(Distance::kilometres(count).whole(DistanceUnit::Kilometres), count);
    }
}

TEST(Distance, IsWithinHalfAMetreOfTheExactMile) {
    for (std::int64_t count = -3'000; count <= 3'000; ++count)
        EXPECT_NEAR(static_cast<double>(Distance::miles(count).metres()),
                    static_cast<double>(count) * 1609.344, 0.5);
}

TEST(Distance, AddsSubtractsAndCompares) {
    EXPECT_EQ(Distance::kilometres(3) + Distance::kilometres(4), Distance::kilometres(7));
    EXPECT_EQ(Distance::kilometres(3) - Distance::kilometres(4), Distance::fromMetres(-1000));
    EXPECT_LT(Distance::kilometres(1), Distance::miles(1));
}

} // namespace
} // namespace milehold::core
