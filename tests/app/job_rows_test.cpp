// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/bay_reading.h"
#include "storage/shop.h"
#include "tests/app/sample_desk.h"

#include <gtest/gtest.h>

namespace milehold::app {
namespace {

class JobRowsTest : public tests::SampleDesk {};

TEST_F(JobRowsTest, TellThePhasersThatWereFittedAndNotThoseOfThePath) {
    const auto rows = ask([](storage::Shop& shop) { return readJobRows(shop, {}, 500); });
    ASSERT_TRUE(rows.has_value());
    const auto shown = toListRows(*rows, *session().shelf(), *session().lives());
    ASSERT_EQ(shown.size(), rows->rows.size());
    int withPhasers = 0;
    int without = 0;
    for (std::size_t i = 0; i < shown.size() && i < 500; ++i) {
        const auto job = ask([id = shown[i].id](storage::Shop& shop) { return shop.jobs().find(id); });
        ASSERT_TRUE(job.has_value());
        std::vector<core::Position> fitted;
        for (const core::JobPart& part : job->parts)
            if (part.position && session().shelf()->find(part.part)->component == core::Component::Phaser)
                fitted.push_back(*part.position);
        EXPECT_EQ(shown[i].positions, fitted) << "job " << shown[i].number;
        (fitted.empty() ? without : withPhasers) += 1;
    }
    EXPECT_GT(withPhasers, 10);
    EXPECT_GT(without, 10) << "valves and calibrations fit none";
}

} // namespace
} // namespace milehold::app
