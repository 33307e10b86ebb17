// SPDX-License-Identifier: GPL-3.0-or-later
// The Bay as pictures, for eyes: empty, typical, with findings, with long words.
#include "core/life/life.h"
#include "tests/support/bay_sample.h"
#include "tests/support/picture.h"
#include "ui/bay/bay_room.h"

#include <QTest>

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

constexpr QSize kRoom{1192, 700}; // what the window leaves of 1280 x 800

std::vector<core::Life> livesOf(const core::VehicleHistory& past) {
    const BayContext context = tests::sampleContext();
    auto lives = core::deriveLives(past, context.settings, context.today);
    return lives ? *lives : std::vector<core::Life>{};
}

/// A sheet with the six-cylinder vehicle's past and whatever `edit` makes of the job.
template <class Edit> void openSheet(BayRoom& room, Edit edit) {
    room.setContext(tests::sampleContext());
    JobCard card = tests::sampleCard();
    const JobCard stored = card;
    const auto past = tests::samplePast();
    edit(card);
    room.sheet()->open(stored, card, past, livesOf(past));
    room.showSheet();
}

void choosePath(BayRoom& room, Qt::Key number) {
    auto* paths = room.sheet()->findChild<QWidget*>(QStringLiteral("path"));
    ASSERT_NE(paths, nullptr);
    QTest::keyClick(paths, number);
}

TEST(BayPictures, AnEmptyRoom) {
    BayRoom room;
    room.setContext(tests::sampleContext());
    ASSERT_TRUE(tests::keepPictures(room, QStringLiteral("bay-list-empty"), kRoom));
}

TEST(BayPictures, AListWithEveryState) {
    BayRoom room;
    const BayContext context = tests::sampleContext();
    room.setContext(context);
    room.jobs()->setShown(JobsShown::All);
    std::vector<JobListRow> rows;
    const std::optional<core::LifeState> states[] = {std::nullopt,
                                                     core::LifeState::Holding,
                                                     core::LifeState::CameBack,
                                                     core::LifeState::NeverHeld,
                                                     core::LifeState::LostSight,
                                                     core::LifeState::EndedOtherwise,
                                                     std::nullopt,
                                                     std::nullopt};
    for (int i = 0; i < 16; ++i) {
        JobListRow row;
        row.id = tests::idOf<core::JobId>(static_cast<std::uint8_t>(i + 1));
        row.number = 412 - i;
        row.vehicleLabel = i % 5 == 3 ? "2019 Ollenby Pibroch Van" : "2020 Tarvick Grello Long Bed";
        row.vin = "10TVA3E25LB004821";
        row.plate = "KTR 0" + std::to_string(400 + i);
        row.customer = i % 4 == 0 ? "Barrow County Roads" : "Fenna Dallimore";
        row.path = i % 3 == 0 ? "Phasers with the chain set" : "All four phasers";
        row.family = context.shelf->families[i % 5 == 3 ? 1 : 0];
        row.positions =
            i % 3 == 0 ? row.family->positions : std::vector<core::Position>{row.family->positions[0]};
        row.technician = "Corin Wainfleet";
        row.writtenUp = core::addDays(context.today, -3 * i);
        if (i > 1)
            row.delivered = core::addDays(context.today, -3 * i + 1);
        row.odometer = core::Distance::miles(84'126 + 3'571 * i);
        row.kind = i == 6 ? core::JobKind::Visit : core::JobKind::Repair;
        row.state = row.delivered && i != 6 ? states[static_cast<std::size_t>(i % 8)] : std::nullopt;
        row.known = core::Distance::miles(1'240 * i);
        row.voided = i == 9;
        rows.push_back(row);
    }
    room.jobs()->setJobs(rows);
    room.jobs()->selectJob(rows[2].id);
    room.jobs()->setDrafts({{QStringLiteral("job/1"), QStringLiteral("new job, 2020 Tarvick Grello"),
                             QStringLiteral("5/16/31, 10:42 AM")}});
    room.jobs()->focusList();
    ASSERT_TRUE(tests::keepPictures(room, QStringLiteral("bay-list"), kRoom));
}

TEST(BayPictures, AScanIsAskedFor) {
    BayRoom room;
    room.setContext(tests::sampleContext());
    room.sheet()->askForVehicle(tests::sampleCard());
    room.showSheet();
    ASSERT_TRUE(tests::keepPictures(room, QStringLiteral("bay-scan"), kRoom));
}

TEST(BayPictures, ANewJobThatAsksAboutAComeback) {
    BayRoom room;
    openSheet(room, [](JobCard&) {});
    ASSERT_TRUE(tests::keepPictures(room, QStringLiteral("bay-new"), kRoom));
}

TEST(BayPictures, ATypicalFinishedJob) {
    BayRoom room;
    openSheet(room, [](JobCard& card) {
        card.job.concernGroup = core::ConcernGroup::OilLeak;
        card.job.odometerIn = core::Distance::miles(103'420);
        card.job.odometerOut = core::Distance::miles(103'426);
        card.job.deliveryCheck = core::DeliveryCheck::Quiet;
        card.job.after = {12, 0};
    });
    choosePath(room, Qt::Key_2);
    ASSERT_TRUE(tests::keepPictures(room, QStringLiteral("bay-typical"), kRoom));
    ASSERT_TRUE(tests::keepPicture(room, QStringLiteral("bay-typical-tall"), QSize(1192, 1400)));
    ASSERT_TRUE(tests::keepPicture(room, QStringLiteral("bay-typical-wide"), QSize(1832, 980)));
}

TEST(BayPictures, AJobWithFindings) {
    BayRoom room;
    openSheet(room, [](JobCard& card) {
        card.job.odometerIn = core::Distance::miles(83'420);
        card.job.odometerOut = core::Distance::miles(83'400);
        card.job.technician.reset();
        card.job.comebackOf = tests::idOf<core::JobId>(1);
        card.job.comebackDecision = core::ComebackDecision::SameConcern;
        card.job.path = tests::kPhasers;
        card.job.parts = {{tests::kOldPhaser, core::Position{1, core::CamRole::Intake}, "L2291", 1, {13'500}},
                          {tests::kPhaser, core::Position{1, core::CamRole::Exhaust}, "", 1, {}}};
        card.job.deliveryCheck = core::DeliveryCheck::Quiet;
        card.job.after = {2, 14};
    });
    room.sheet()->save();
    ASSERT_TRUE(tests::keepPictures(room, QStringLiteral("bay-findings"), kRoom));
    ASSERT_TRUE(tests::keepPicture(room, QStringLiteral("bay-findings-tall"), QSize(1192, 1500)));
}

TEST(BayPictures, LongWords) {
    BayRoom room;
    openSheet(room, [](JobCard& card) {
        card.vehicle.maker = "Tarvick-Donnerstagshausener Kraftfahrzeugmanufaktur";
        card.vehicle.model = "Grello Langkastenpritschenwagen mit Doppelkabine";
        card.customer->name = "Gemeinschaftswerkstatt der Landkreisstrassenbauverwaltung Obertupfingen";
        card.job.correction = std::string(600, 'x');
        card.job.odometerIn = core::Distance::miles(999'999'999);
    });
    choosePath(room, Qt::Key_3);
    ASSERT_TRUE(tests::keepPictures(room, QStringLiteral("bay-long"), kRoom));
}

} // namespace
} // namespace milehold::ui
