// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/fill.h"
#include "core/shop/search_key.h"
#include "tests/core/support/records.h"

#include <gtest/gtest.h>

namespace milehold::core {
namespace {

using namespace testing_support;

class Filling : public ::testing::Test {
protected:
    Filling() {
        settings.warrantyMonths = 12;
        settings.warrantyDistance = miles(12'000);
        blank.vehicle = key<VehicleId>(1);
    }
    Job with(const Job& job, RepairPathId path) const {
        return withPath(job, *s.shelf.find(path), s.shelf, settings, s.shelf.find(s.family));
    }
    SmallShelf s;
    ShopSettings settings;
    Job blank;
};

TEST_F(Filling, FillsABlankJobWithNewestRevisionsAndCalibration) {
    const Job filled = with(blank, s.phasers);
    EXPECT_EQ(filled.path, s.phasers);
    EXPECT_EQ(filled.lines, (std::vector<std::string>{"Replace both phasers"}));
    ASSERT_EQ(filled.parts.size(), 2U);
    EXPECT_EQ(filled.parts[0].part, s.newPhaser);
    EXPECT_EQ(filled.parts[1].position, (Position{1, CamRole::Exhaust}));
    EXPECT_EQ(filled.calibrationAfter, "QC02");
    EXPECT_EQ(filled.hours, Hours{650});
    EXPECT_EQ(filled.labourPrice, Money{124'000});
    EXPECT_EQ(filled.total(), Money{124'000});
    EXPECT_EQ(filled.warrantyMonths, 12);
    EXPECT_EQ(filled.warrantyDistance, miles(12'000));
    EXPECT_EQ(filled.vehicle, blank.vehicle);
}

TEST_F(Filling, ReplacesWhatTheFormerPathFilledIn) {
    const Job changed = with(with(blank, s.phasers), s.valves);
    EXPECT_EQ(changed, with(blank, s.valves));
    EXPECT_EQ(changed.calibrationAfter, "") << "the new path programs nothing";
}

TEST_F(Filling, LeavesWhatTheTechnicianChanged) {
    Job job = with(blank, s.phasers);
    job.parts[0].lot = "L-77";
    job.hours = Hours{700};
    job.calibrationAfter = "QC09";
    job.warrantyMonths = 24;
    const Job changed = with(job, s.valves);
    EXPECT_EQ(changed.path, s.valves);
    EXPECT_EQ(changed.parts, job.parts);
    EXPECT_EQ(changed.hours, Hours{700});
    EXPECT_EQ(changed.calibrationAfter, "QC09");
    EXPECT_EQ(changed.warrantyMonths, 24);
    EXPECT_EQ(changed.lines, s.shelf.find(s.valves)->lines);
    EXPECT_EQ(changed.labourPrice, s.shelf.find(s.valves)->price);
}

TEST_F(Filling, LeavesWhatWasTypedBeforeAnyPathWasChosen) {
    Job job = blank;
    job.lines = {"Hear it cold first"};
    job.partsPrice = Money{500};
    const Job filled = with(job, s.phasers);
    EXPECT_EQ(filled.lines, job.lines);
    EXPECT_EQ(filled.partsPrice, Money{500});
    EXPECT_EQ(filled.parts.size(), 2U);
}

TEST_F(Filling, LeavesOutPositionsThatTheEngineDoesNotHave) {
    EngineFamily single = *s.shelf.find(s.family);
    single.positions = {{1, CamRole::Intake}};
    EXPECT_EQ(withPath(blank, *s.shelf.find(s.phasers), s.shelf, settings, &single).parts.size(), 1U);
    EXPECT_EQ(withPath(blank, *s.shelf.find(s.phasers), s.shelf, settings, nullptr).parts.size(), 2U);
}

TEST_F(Filling, ChoosingTheSamePathAgainChangesNothing) {
    const Job once = with(blank, s.phasers);
    EXPECT_EQ(with(once, s.phasers), once);
}

TEST(SearchKey, TakesPlatesAndPhonesInAnyForm) {
    EXPECT_EQ(plateKey("ab-12 c"), "AB12C");
    EXPECT_EQ(plateKey(" Å 1"), "Å1");
    EXPECT_EQ(plateKey("--"), "");
    EXPECT_EQ(phoneKey("+1 (555) 010-0199"), "15550100199");
    EXPECT_EQ(phoneKey("001 555 010 0199"), "15550100199");
    EXPECT_EQ(phoneKey("office"), "");
}

} // namespace
} // namespace milehold::core
