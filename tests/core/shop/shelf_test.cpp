// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/applies.h"
#include "core/shop/shelf.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using testing_support::day;
using testing_support::key;
using testing_support::SmallShelf;

TEST(Shelf, FindsWhatIsThereAndNothingElse) {
    const SmallShelf s;
    ASSERT_NE(s.shelf.find(s.oldPhaser), nullptr);
    EXPECT_EQ(s.shelf.find(s.oldPhaser)->revisionLabel, "A");
    EXPECT_EQ(s.shelf.find(s.family)->name, "Quill 1.6");
    EXPECT_EQ(s.shelf.find(s.valves)->name, "Oil control valves");
    EXPECT_EQ(s.shelf.find(s.newCalibration)->code, "QC02");
    EXPECT_EQ(s.shelf.find(key<PartNumberId>(99)), nullptr);
}

TEST(Shelf, FactIsStaleFromTheDayAfter) {
    const Freshness freshness{day("2031-01-01"), day("2031-07-01")};
    EXPECT_FALSE(isStale(freshness, day("2031-07-01")));
    EXPECT_TRUE(isStale(freshness, day("2031-07-02")));
    EXPECT_FALSE(isStale(Freshness{}, day("2031-07-02")));
}

TEST(Supersession, LeadsToTheNewestRevision) {
    SmallShelf s;
    EXPECT_EQ(newestOf(s.shelf, s.oldPhaser), s.newPhaser);
    EXPECT_EQ(newestOf(s.shelf, s.newPhaser), s.newPhaser);
    EXPECT_EQ(newestOf(s.shelf, s.valve), s.valve);
    PartNumber third = s.shelf.parts[1];
    third.id = key<PartNumberId>(9);
    s.shelf.parts[1].supersededBy = third.id;
    s.shelf.parts.push_back(third);
    EXPECT_EQ(newestOf(s.shelf, s.oldPhaser), third.id);
}

TEST(Supersession, OfAPartThatIsNotOnTheShelfIsThePartItself) {
    SmallShelf s;
    EXPECT_EQ(newestOf(s.shelf, key<PartNumberId>(77)), key<PartNumberId>(77));
    s.shelf.parts[1].supersededBy = key<PartNumberId>(77);
    EXPECT_EQ(newestOf(s.shelf, s.oldPhaser), s.newPhaser);
}

TEST(Supersession, ThatRunsInACircleEndsAndChangesNothing) {
    SmallShelf s;
    s.shelf.parts[1].supersededBy = s.oldPhaser;
    EXPECT_EQ(newestOf(s.shelf, s.oldPhaser), s.oldPhaser);
    s.shelf.calibrations[0].supersedes = s.newCalibration;
    EXPECT_EQ(newestOf(s.shelf, s.oldCalibration), s.oldCalibration);
}

TEST(Supersession, OfCalibrationsTakesTheLatestReleasedWhereItForks) {
    SmallShelf s;
    EXPECT_EQ(newestOf(s.shelf, s.oldCalibration), s.newCalibration);
    Calibration fork = s.shelf.calibrations[1];
    fork.id = key<CalibrationId>(3);
    fork.code = "QC02X";
    fork.releasedOn = day("2031-02-01");
    s.shelf.calibrations.push_back(fork);
    EXPECT_EQ(newestOf(s.shelf, s.oldCalibration), fork.id);
    s.shelf.calibrations[2].releasedOn = std::nullopt;
    EXPECT_EQ(newestOf(s.shelf, s.oldCalibration), s.newCalibration);
}

TEST(Applies, AsksForFamilyAndModelYear) {
    SmallShelf s;
    const RepairPath& path = s.shelf.paths[0]; // 2019 to 2026
    EXPECT_TRUE(appliesTo(path, s.family, 2019, "", s.shelf));
    EXPECT_TRUE(appliesTo(path, s.family, 2026, "", s.shelf));
    EXPECT_FALSE(appliesTo(path, s.family, 2018, "", s.shelf));
    EXPECT_FALSE(appliesTo(path, s.family, 2027, "", s.shelf));
    EXPECT_FALSE(appliesTo(path, s.family, std::nullopt, "", s.shelf));
    EXPECT_FALSE(appliesTo(path, key<EngineFamilyId>(5), 2022, "", s.shelf));
    EXPECT_FALSE(appliesTo(path, std::nullopt, 2022, "", s.shelf));
}

TEST(Applies, LeavesAnEmptyEndOpen) {
    SmallShelf s;
    RepairPath path = s.shelf.paths[0];
    path.applies[0].toYear = std::nullopt;
    EXPECT_TRUE(appliesTo(path, s.family, 2060, "", s.shelf));
    path.applies[0].fromYear = std::nullopt;
    EXPECT_TRUE(appliesTo(path, s.family, std::nullopt, "", s.shelf));
    path.applies.clear();
    EXPECT_FALSE(appliesTo(path, s.family, 2022, "", s.shelf));
}

TEST(Applies, NeedsAndExcludesACalibrationAndAllThatFollowFromIt) {
    SmallShelf s;
    RepairPath path = s.shelf.paths[0];
    path.applies[0].needsCalibration = s.oldCalibration;
    EXPECT_TRUE(appliesTo(path, s.family, 2022, "QC01", s.shelf));
    EXPECT_TRUE(appliesTo(path, s.family, 2022, "QC02", s.shelf));
    EXPECT_FALSE(appliesTo(path, s.family, 2022, "", s.shelf));
    EXPECT_FALSE(appliesTo(path, s.family, 2022, "ZZ99", s.shelf));
    path.applies[0].excludesCalibration = s.newCalibration;
    EXPECT_TRUE(appliesTo(path, s.family, 2022, "QC01", s.shelf));
    EXPECT_FALSE(appliesTo(path, s.family, 2022, "QC02", s.shelf));
}

} // namespace
} // namespace milehold::core
