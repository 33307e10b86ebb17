// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/life_record.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

#include <set>
#include <string>

namespace milehold::core {
namespace {

using namespace testing_support;

class Facets : public ::testing::Test {
protected:
    Facets() {
        Staff tech;
        tech.id = key<StaffId>(1);
        tech.name = "Tove Brandt";
        staff = {tech};
        record.life.path = s.phasers;
        record.life.repairedOn = day("2030-02-03");
        record.family = s.family;
        record.modelYear = 2022;
        record.technician = tech.id;
        record.calibration = "QC02";
        record.parts = {s.newPhaser, s.valve, s.oldPhaser};
    }
    std::string value(const char* id) const {
        const Facet* facet = facetById(id);
        return facet == nullptr ? "no such facet" : facet->valueOf(record, {s.shelf, staff});
    }
    SmallShelf s;
    std::vector<Staff> staff;
    LifeRecord record;
};

TEST_F(Facets, NameTheGroupOfALife) {
    EXPECT_EQ(value("path"), "Phasers, both cams");
    EXPECT_EQ(value("phaser-revision"), "QP-1100 A + QP-1100 B");
    EXPECT_EQ(value("calibration"), "QC02");
    EXPECT_EQ(value("engine"), "Quill 1.6");
    EXPECT_EQ(value("model-years"), "2022 to 2024");
    EXPECT_EQ(value("technician"), "Tove Brandt");
    EXPECT_EQ(value("delivery-year"), "2030");
    EXPECT_EQ(value("repeat"), "First repair");
}

TEST_F(Facets, SayNothingWhereTheRecordDoesNot) {
    record = LifeRecord{};
    record.life.repairedOn = day("2030-02-03");
    for (const char* id : {"path", "phaser-revision", "calibration", "engine", "model-years", "technician"})
        EXPECT_EQ(value(id), "") << id;
    record.life.path = key<RepairPathId>(70);
    record.family = key<EngineFamilyId>(70);
    record.technician = key<StaffId>(70);
    for (const char* id : {"path", "engine", "technician"})
        EXPECT_EQ(value(id), "") << id;
}

TEST_F(Facets, PutModelYearsIntoBandsWithoutGapsOrOverlap) {
    std::set<std::string> bands;
    for (int year = 1980; year < 2040; ++year) {
        record.modelYear = year;
        const std::string band = value("model-years");
        EXPECT_LE(std::stoi(band.substr(0, 4)), year);
        EXPECT_GE(std::stoi(band.substr(8, 4)), year);
        bands.insert(band);
    }
    EXPECT_EQ(bands.size(), 20U);
}

TEST_F(Facets, HaveDistinctNames) {
    std::set<std::string_view> ids;
    for (const auto& facet : facets()) {
        EXPECT_TRUE(ids.insert(facet.id).second) << facet.id;
        EXPECT_EQ(facetById(facet.id), &facet);
    }
    EXPECT_EQ(facetById("colour"), nullptr);
}

} // namespace
} // namespace milehold::core
