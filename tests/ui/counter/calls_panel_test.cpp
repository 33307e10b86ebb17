// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/picture.h"
#include "tests/ui/office/office_sample.h"
#include "ui/counter/calls_panel.h"
#include "ui/widgets/date_field.h"
#include "ui/widgets/distance_field.h"

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QTest>

#include <gtest/gtest.h>

#include <map>

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
            "41,000 mi unseen on the path with the fewest watched (2 at 40,000 mi); an answer narrows its "
            "limits by 1.3 points on average; under warranty until 2031-08-02.";
        call.due = {{core::DueKind::Months12, day(2030, 8, 2), {}},
                    {core::DueKind::Distance, day(2031, 2, 1), core::Distance::miles(25'000)}};
        if (i == 1)
            call.also = {"Orbin Strand 2018, job 31"};
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
        panel.setToday(day(2031, 5, 16));
        panel.setCalls(someCalls(), 57);
        panel.resize(1088, 620);
        panel.show();
        panel.focusList();
        QObject::connect(&panel, &CallsPanel::answered, &panel,
                         [this](const CallAnswer& answer) { answers.push_back(answer); });
    }
    QListWidget& list() { return *panel.findChild<QListWidget*>(QStringLiteral("calls")); }
    DateField& callOn() { return *panel.findChild<DateField*>(QStringLiteral("callOn")); }
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
        if (outcome == core::FollowUpOutcome::CallLater) // a letter, and Enter for a week
            QTest::keyClick(&shown.callOn(), Qt::Key_Return);
        ASSERT_FALSE(shown.answers.empty());
        EXPECT_EQ(shown.answers.back().outcome, outcome);
        EXPECT_EQ(shown.answers.back().job, tests::jobId(1));
        shown.panel.answerFailed(); // the same call is logged again
    }
    EXPECT_EQ(shown.answers.size(), keys.size());
}

TEST(CallsPanel, AsksForTheDayToCallAgainAndTakesAWeekUnlessAnotherIsTyped) {
    ShownPanel shown;
    QTest::keyClick(&shown.list(), Qt::Key_L);
    EXPECT_TRUE(shown.answers.empty()) << "first the day";
    EXPECT_TRUE(shown.callOn().isVisible());
    EXPECT_TRUE(tests::keepPictures(shown.panel, QStringLiteral("calls-later"), QSize(1088, 620)));
    QTest::keyClick(&shown.callOn(), Qt::Key_Return);
    ASSERT_EQ(shown.answers.size(), 1U);
    EXPECT_EQ(shown.answers.back().callOn, day(2031, 5, 23)) << "a week from today";
    EXPECT_EQ(shown.panel.focusWidget(), &shown.list()) << "the next letter is for the next call";
    shown.panel.answerFailed();
    QTest::keyClick(&shown.callOn(), Qt::Key_Escape);
    EXPECT_FALSE(shown.callOn().isVisible());

    QTest::keyClick(&shown.list(), Qt::Key_L);
    shown.callOn().selectAll();
    QTest::keyClicks(&shown.callOn(), QStringLiteral("2031-07-01"));
    EXPECT_EQ(shown.panel.typed().callOn, day(2031, 7, 1)) << "kept as a draft";
    QTest::keyClick(&shown.callOn(), Qt::Key_Return);
    ASSERT_EQ(shown.answers.size(), 2U);
    EXPECT_EQ(shown.answers.back().callOn, day(2031, 7, 1));
    EXPECT_EQ(shown.answers.back().outcome, core::FollowUpOutcome::CallLater);
}

TEST(CallsPanel, TakesACallLaterThatWasDoubtedWhenItIsToldOnceMore) {
    ShownPanel shown;
    QTest::keyClick(&shown.list(), Qt::Key_L);
    QTest::keyClick(&shown.callOn(), Qt::Key_Return);
    ASSERT_EQ(shown.answers.size(), 1U);
    EXPECT_FALSE(shown.answers.back().isSure);
    shown.panel.answerDoubted(core::FollowUpOutcome::CallLater, QStringLiteral("The odometer fell."));
    shown.list().setFocus();
    QTest::keyClick(&shown.list(), Qt::Key_L);
    QTest::keyClick(&shown.callOn(), Qt::Key_Return);
    ASSERT_EQ(shown.answers.size(), 2U);
    EXPECT_TRUE(shown.answers.back().isSure);
}

TEST(CallsPanel, LogsNoCallLaterForADayThatIsPastOrNone) {
    ShownPanel shown;
    QTest::keyClick(&shown.list(), Qt::Key_L);
    for (const char* wrong : {"2031-05-16", "2030-01-01", "soon", ""}) {
        shown.callOn().selectAll();
        QTest::keyClick(&shown.callOn(), Qt::Key_Delete);
        QTest::keyClicks(&shown.callOn(), QString::fromLatin1(wrong));
        QTest::keyClick(&shown.callOn(), Qt::Key_Return);
        EXPECT_TRUE(shown.answers.empty()) << wrong;
        EXPECT_FALSE(shown.panel.findChild<QPushButton*>(QStringLiteral("logWhen"))->isEnabled()) << wrong;
    }
    QTest::keyClick(&shown.callOn(), Qt::Key_Escape);
    QTest::keyClick(&shown.list(), Qt::Key_A);
    EXPECT_EQ(shown.answers.back().outcome, core::FollowUpOutcome::NoAnswer);
    EXPECT_FALSE(shown.answers.back().callOn);
}

TEST(CallsPanel, EveryButtonAndFieldHasALetterOfItsOwn) {
    ShownPanel shown;
    QTest::keyClick(&shown.list(), Qt::Key_L); // the day and its button are there too
    std::map<QString, QString> letters;
    const auto take = [&](const QString& text) {
        const auto at = text.indexOf(QChar(u'&'));
        ASSERT_GE(at, 0) << text.toStdString();
        EXPECT_TRUE(letters.emplace(text.mid(at + 1, 1).toUpper(), text).second)
            << text.toStdString() << " and " << letters[text.mid(at + 1, 1).toUpper()].toStdString();
    };
    for (const auto* button : shown.panel.findChildren<QPushButton*>())
        if (button->isVisible())
            take(button->text());
    for (const auto* label : shown.panel.findChildren<QLabel*>())
        if (label->isVisible() && label->buddy())
            take(label->text());
    EXPECT_GE(letters.size(), 18U);
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

TEST(CallsPanel, TakesOneAnswerOfACallUntilItIsStored) {
    ShownPanel shown;
    QTest::keyClick(&shown.list(), Qt::Key_Q);
    QTest::keyClick(&shown.list(), Qt::Key_Q);
    ASSERT_EQ(shown.answers.size(), 1U);
    shown.panel.answerKept(tests::jobId(1));
    ASSERT_EQ(shown.panel.calls().size(), 2U);
    EXPECT_EQ(shown.panel.calls()[0].call.job, tests::jobId(2)) << "the next one is at hand";
    QTest::keyClick(&shown.list(), Qt::Key_A);
    EXPECT_EQ(shown.answers.back().job, tests::jobId(2));
}

TEST(CallsPanel, GoesToTheTopOfTheListThatAnAnswerRankedAnew) {
    ShownPanel shown;
    shown.list().setCurrentRow(1);
    QTest::keyClick(&shown.list(), Qt::Key_A);
    shown.panel.answerKept(tests::jobId(2));
    EXPECT_EQ(shown.panel.currentCall(), 0) << "at once, by the order so far";
    auto ranked = someCalls();
    ranked.erase(ranked.begin() + 1);
    std::swap(ranked[0], ranked[1]);
    shown.panel.setCalls(ranked, 56);
    EXPECT_EQ(shown.panel.currentCall(), 0);
    EXPECT_EQ(shown.panel.calls()[0].call.job, tests::jobId(3)) << "and by the new order";

    // Whoever has gone on to a call meanwhile keeps it.
    shown.panel.answerKept(tests::jobId(9));
    QTest::keyClick(&shown.list(), Qt::Key_Down);
    std::swap(ranked[0], ranked[1]);
    shown.panel.setCalls(ranked, 56);
    EXPECT_EQ(shown.panel.calls()[static_cast<std::size_t>(shown.panel.currentCall())].call.job,
              tests::jobId(1));
    shown.panel.answerKept(tests::jobId(9));
    QTest::keyClicks(&shown.odometer(), QStringLiteral("91250"));
    std::swap(ranked[0], ranked[1]);
    const auto typedFor = shown.panel.calls()[static_cast<std::size_t>(shown.panel.currentCall())].call.job;
    shown.panel.setCalls(ranked, 56);
    EXPECT_EQ(shown.panel.calls()[static_cast<std::size_t>(shown.panel.currentCall())].call.job, typedFor);
    EXPECT_EQ(shown.panel.typed().odometer, core::Distance::miles(91'250));
}

TEST(CallsPanel, KeepsWhatIsTypedWhenTheAnswerIsNotStoredOrTheListIsRankedAnew) {
    ShownPanel shown;
    QTest::keyClicks(&shown.odometer(), QStringLiteral("91250"));
    QTest::keyClick(&shown.list(), Qt::Key_Q);
    shown.panel.answerFailed();
    EXPECT_EQ(shown.panel.typed().odometer, core::Distance::miles(91'250));
    auto ranked = someCalls();
    std::swap(ranked[0], ranked[2]);
    shown.panel.setCalls(ranked, 57);
    EXPECT_EQ(shown.panel.currentCall(), 2) << "the same call, at its new place";
    EXPECT_EQ(shown.panel.typed().odometer, core::Distance::miles(91'250));
}

TEST(CallsPanel, ShowsWhatWasTypedBeforeTheProgramWasKilled) {
    CallsPanel panel;
    auto calls = someCalls();
    calls[0].typed.odometer = core::Distance::miles(90'000);
    calls[0].typed.note = "drives to work only";
    panel.setCalls(calls, 3);
    EXPECT_EQ(panel.typed(), calls[0].typed);
}

TEST(CallsPanel, AsksForTheViewThatWasChosen) {
    ShownPanel shown;
    std::vector<core::CallView> asked;
    QObject::connect(&shown.panel, &CallsPanel::viewWanted, &shown.panel,
                     [&](const core::CallView& view) { asked.push_back(view); });
    auto* show = shown.panel.findChild<QComboBox*>(QStringLiteral("callShow"));
    auto* order = shown.panel.findChild<QComboBox*>(QStringLiteral("callOrder"));
    ASSERT_EQ(show->count(), static_cast<int>(core::CallView::Show::Warranty) + 1);
    ASSERT_EQ(order->count(), static_cast<int>(core::CallView::Order::Unseen) + 1);
    show->setFocus();
    QTest::keyClick(show, Qt::Key_Down);
    order->setFocus();
    QTest::keyClick(order, Qt::Key_End);
    ASSERT_FALSE(asked.empty());
    EXPECT_EQ(asked.back(), (core::CallView{core::CallView::Show::Due, core::CallView::Order::Unseen}));
}

TEST(CallsPanel, SaysWhenThereIsNobodyToCall) {
    CallsPanel panel;
    EXPECT_TRUE(tests::keepPicture(panel, QStringLiteral("calls-empty"), QSize(1088, 620)));
    EXPECT_EQ(panel.currentCall(), -1);
}

} // namespace
} // namespace milehold::ui
