// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/engine.h"
#include "core/shop/id.h"

#include <gtest/gtest.h>

#include <type_traits>

namespace milehold::core {
namespace {

static_assert(!std::is_convertible_v<VehicleId, JobId>);

// The name-space identifier for DNS. Source: RFC 4122, appendix C.
TEST(Uuid, ReadsTheExampleOfItsStandard) {
    const auto uuid = uuidFromString("6ba7b810-9dad-11d1-80b4-00c04fd430c8");
    ASSERT_TRUE(uuid);
    EXPECT_EQ(uuid->bytes[0], 0x6b);
    EXPECT_EQ(uuid->bytes[15], 0xc8);
    EXPECT_EQ(toString(*uuid), "6ba7b810-9dad-11d1-80b4-00c04fd430c8");
}

TEST(Uuid, ReadsCapitalsAndWritesSmallLetters) {
    EXPECT_EQ(toString(uuidFromString("6BA7B810-9DAD-11D1-80B4-00C04FD430C8").value()),
              "6ba7b810-9dad-11d1-80b4-00c04fd430c8");
}

TEST(Uuid, RefusesOtherForms) {
    for (const char* text :
         {"", "6ba7b810", "6ba7b8109dad11d180b400c04fd430c8", "6ba7b810-9dad-11d1-80b4-00c04fd430c",
          "6ba7b810-9dad-11d1-80b4-00c04fd430c8 ", "{6ba7b810-9dad-11d1-80b4-00c04fd430c8}",
          "6ba7b810-9dad-11d1-80b40-0c04fd430c8", "6ba7b810-9dad-11d1-80b4-00c04fd430cg"})
        EXPECT_FALSE(uuidFromString(text)) << text;
}

TEST(Uuid, OfZeroesIsNone) {
    EXPECT_TRUE(Uuid{}.isNull());
    EXPECT_EQ(toString(Uuid{}), "00000000-0000-0000-0000-000000000000");
}

TEST(Position, IsWrittenByBankAndCam) {
    EXPECT_EQ(toCode(Position{1, CamRole::Intake}), "B1-IN");
    EXPECT_EQ(toCode(Position{2, CamRole::Exhaust}), "B2-EX");
    EXPECT_EQ(toCode(Position{1, CamRole::Single}), "B1-SC");
}

TEST(Position, ReadsBackEveryCodeAndNoOther) {
    for (const int bank : {1, 2})
        for (const CamRole cam : {CamRole::Intake, CamRole::Exhaust, CamRole::Single}) {
            const Position position{static_cast<std::uint8_t>(bank), cam};
            EXPECT_EQ(positionFromCode(toCode(position)), position);
        }
    for (const char* text : {"", "B3-IN", "B1-XX", "b1-in", "B1IN", "B1-IN "})
        EXPECT_FALSE(positionFromCode(text)) << text;
}

} // namespace
} // namespace milehold::core
