// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/picture.h"
#include "tests/ui/office/office_sample.h"
#include "ui/counter/calls_panel.h"
#include "ui/widgets/distance_field.h"

#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QTest>

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

core::Date day(int year, unsigned month, unsigned dayOfMonth) {
    return {std::chrono::year(year), std::chrono::month(month), std::chrono::day(dayOfMonth)};
}

std::vector<CallToMake> someCalls() {
    std::vector<CallToMake> calls;
    const char* names[] = {"Ida Kestrel", "Torvald Byre",
                           "Northern Fells Volunteer Ambulance and Rescue Association"};
    for (unsigned i = 0; i < 3; ++i) {
        CallToMake call;
        call.call.job = tests::jobId(i + 1);
        call.call.reason =
            "Not heard of for about 14 months, 41,000 mi unseen; the answer narrows the limits of "
            "\"Phasers alone\" at 40,000 mi by 1.3 points on average; under warranty until 2031-08-02.";
        call.call.warrantyOpen = i == 0;
        call.customer = names[i];
        call.phones = {"555 0142 " + std::to_string(i), "555 0199"};
        call.bestTime = "after four";
        call.vehicle = "Orbin Vale 2021";
        call.plate = "KLM 20" + std::to_string(i);
        call.path = "Phasers alone";
        call.repairedOn = day(2029, 8, 2);
        call.lastKnownOn = day(2030, 2, 11);
        call.known = core::Distance::miles(6'100);
        call.odometerNow = core::Distance::miles(88'400 + 1'000 * i);
        calls.push_back(call);
    }
    return calls;
}

struct ShownPanel {
    CallsPanel panel;
    std::vector<CallAnswer> answers;

    ShownPanel() {
        panel.setCalls(someCalls(), 57);
        panel.resize(1088, 620);
        panel.show();
        panel.focusList();
        QObject::connect(&panel, &CallsPanel::answered, &panel,
                         [this](const CallAnswer& answer) { answers.push_back(answer); });
    }
    QListWidget& list() { return *panel.findChild<QListWidget*>(QStringLiteral("calls")); }
    DistanceField& odometer() { return *panel.findChild<DistanceField*>(QStringLiteral("callOdometer")); }
};

TEST(CallsPanel, OneKeyLogsEachOutcome) {
    ShownPanel shown;
    EXPECT_TRUE(tests::keepPictures(shown.panel, QStringLiteral("calls-typical"), QSize(1088, 620)));
    const std::vector<std::pair<Qt::Key, core::FollowUpOutcome>> keys = {
        {Qt::Key_Q, core::FollowUpOutcome::Quiet},     {Qt::Key_N, core::FollowUpOutcome::NoiseBack},
        {Qt::Key_A, core::FollowUpOutcome::NoAnswer},  {Qt::Key_L, core::FollowUpOutcome::CallLater},
        {Qt::Key_S, core::FollowUpOutcome::Sold},      {Qt::Key_X, core::FollowUpOutcome::Scrapped},
        {Qt::Key_D, core::FollowUpOutcome::DoNotCall}, {Qt::Key_R, core::FollowUpOutcome::RepairedElsewhere}};
    for (const auto& [key, outcome] : keys) {
        QTest::keyClick(&shown.list(), key);
        ASSERT_FALSE(shown.answers.empty());
        EXPECT_EQ(shown.answers.back().outcome, outcome);
        EXPECT_EQ(shown.answers.back().job, tests::jobId(1));
    }
    EXPECT_EQ(shown.answers.size(), keys.size());
}

TEST(CallsPanel, FlagsAnOdometerThatNobodyToldAsEstimated) {
    ShownPanel shown;
    QTest::keyClick(&shown.list(), Qt::Key_Q);
    EXPECT_EQ(shown.answers.back().odometer, core::Distance::miles(88'400));
    EXPECT_TRUE(shown.answers.back().odometerEstimated);
}

TEST(CallsPanel, TakesTheOdometerThatWasToldAsItIs) {
    ShownPanel shown;
    QTest::keyClick(&shown.list(), Qt::Key_Return); // to the odometer
    QTest::keyClicks(&shown.odometer(), QStringLiteral("91250"));
    EXPECT_TRUE(shown.answers.empty()) << "letters and digits are typed in a field";
    QTest::keyClick(&shown.odometer(), Qt::Key_Return);
    QTest::keyClick(&shown.list(), Qt::Key_Q);
    EXPECT_EQ(shown.answers.back().odometer, core::Distance::miles(91'250));
    EXPECT_FALSE(shown.answers.back().odometerEstimated);
}

TEST(CallsPanel, NeverEstimatesWhereTheNoiseCameBack) {
    ShownPanel shown;
    QTest::keyClick(&shown.list(), Qt::Key_N);
    EXPECT_FALSE(shown.answers.back().odometer.has_value());
    EXPECT_FALSE(shown.answers.back().odometerEstimated);
}

TEST(CallsPanel, DoesNotLogWhileAnOdometerCannotBeRead) {
    ShownPanel shown;
    shown.odometer().setText(QStringLiteral("eighty"));
    QTest::keyClick(&shown.list(), Qt::Key_Q);
    EXPECT_TRUE(shown.answers.empty());
}

TEST(CallsPanel, GoesOnToTheNextCallWhenOneIsMade) {
    ShownPanel shown;
    shown.list().setCurrentRow(1);
    auto left = someCalls();
    left.erase(left.begin() + 1);
    shown.panel.setCalls(left, 56);
    EXPECT_EQ(shown.panel.currentCall(), 1);
    EXPECT_EQ(shown.panel.calls()[1].call.job, tests::jobId(3));
    EXPECT_TRUE(shown.odometer().text().isEmpty());
}

TEST(CallsPanel, SaysWhenThereIsNobodyToCall) {
    CallsPanel panel;
    EXPECT_TRUE(tests::keepPicture(panel, QStringLiteral("calls-empty"), QSize(1088, 620)));
    EXPECT_EQ(panel.currentCall(), -1);
}

} // namespace
} // namespace milehold::ui
