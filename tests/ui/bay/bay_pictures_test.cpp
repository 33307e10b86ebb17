// SPDX-License-Identifier: GPL-3.0-or-later
// The Bay as pictures, for eyes: empty, typical, with findings, with long words.
#include "core/life/life.h"
#include "tests/support/bay_sample.h"
#include "tests/support/picture.h"
#include "ui/bay/bay_room.h"

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

constexpr QSize kRoom{1192, 700}; // what the window leaves of 1280 x 800

std::vector<core::Life> livesOf(const core::VehicleHistory& past) {
    const BayContext context = tests::sampleContext();
    auto lives = core::deriveLives(past, context.settings, context.today);
    return lives ? *lives : std::vector<core::Life>{};
}

TEST(BayPictures, ANewJobWithItsPath) {
    BayRoom room;
    room.setContext(tests::sampleContext());
    JobCard card = tests::sampleCard();
    const auto past = tests::samplePast();
    room.sheet()->open(card, card, past, livesOf(past));
    room.showSheet();
    ASSERT_TRUE(tests::keepPictures(room, QStringLiteral("bay-new"), kRoom));
}

} // namespace
} // namespace milehold::ui
