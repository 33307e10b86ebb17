// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/names.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

// Year, maker, model: common practice of the trade's estimates and repair orders, no published source.
TEST(VehicleName, SaysYearMakerAndModelAsFarAsTheyAreKnown) {
    EXPECT_EQ(vehicleName(2027, "Ordway", "Lantern"), "2027 Ordway Lantern");
    EXPECT_EQ(vehicleName(std::nullopt, "Ordway", "Lantern"), "Ordway Lantern");
    EXPECT_EQ(vehicleName(2027, "", "Lantern"), "2027 Lantern");
    EXPECT_EQ(vehicleName(2027, "Ordway", ""), "2027 Ordway");
    EXPECT_EQ(vehicleName(2027, "", ""), "2027");
    EXPECT_EQ(vehicleName(std::nullopt, "", "Lantern"), "Lantern");
    EXPECT_EQ(vehicleName(std::nullopt, "", ""), "");
}

TEST(PartLabel, SaysNumberAndRevision) {
    PartNumber part;
    part.number = "TX-114";
    EXPECT_EQ(partLabel(part), "TX-114");
    part.revisionLabel = "B";
    EXPECT_EQ(partLabel(part), "TX-114 B");
}

} // namespace
} // namespace milehold::core
