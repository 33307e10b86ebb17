// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/call_list.h"
#include "app/desktop/calls_controller.h"
#include "storage/shop.h"
#include "tests/app/sample_desk.h"
#include "tests/support/picture.h"
#include "ui/counter/answers_dialog.h"
#include "ui/counter/call_sheet_dialog.h"
#include "ui/counter/calls_panel.h"
#include "ui/widgets/date_field.h"
#include "ui/widgets/distance_field.h"

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QTemporaryDir>
#include <QTest>

#include <gtest/gtest.h>

#include <algorithm>

namespace milehold::app {
namespace {

class CallsControllerTest : public tests::SampleDesk {
protected:
    void SetUp() override {
        SampleDesk::SetUp();
        controller = std::make_unique<CallsController>(panel, database(), session());
        QObject::connect(controller.get(), &CallsController::said, controller.get(),
                         [this](const QString& what) { said = what; });
        panel.resize(1136, 660);
        panel.show();
        ASSERT_TRUE(waitFor([this] { return !panel.calls().empty(); }));
        first = panel.calls().front().call.job;
    }
    QListWidget* list() { return panel.findChild<QListWidget*>(QStringLiteral("calls")); }
    ui::DistanceField* odometer() {
        return panel.findChild<ui::DistanceField*>(QStringLiteral("callOdometer"));
    }
    core::Life lifeOf(core::JobId job) {
        for (const core::LifeRecord& record : *session().lives())
            if (record.life.job == job)
                return record.life;
        return {};
    }
    bool isListed(core::JobId job) const {
        for (const auto& call : panel.calls())
            if (call.call.job == job)
                return true;
        return false;
    }
    std::vector<core::FollowUp> toldOf(core::JobId job) {
        const auto told = ask([job](storage::Shop& shop) { return shop.followUps().ofJob(job); });
        EXPECT_TRUE(told.has_value());
        return told.value_or(std::vector<core::FollowUp>{});
    }

    ui::CallsPanel panel;
    std::unique_ptr<CallsController> controller;
    QString said;
    core::JobId first;
};

TEST_F(CallsControllerTest, AnAnswerIsStoredMovesTheEvidenceAndCanBeTakenBack) {
    EXPECT_TRUE(tests::keepPictures(panel, QStringLiteral("calls-sample"), QSize(1136, 660)));
    const core::Distance before = lifeOf(first).known;
    const core::Distance now = panel.calls().front().odometerNow.value();
    odometer()->setFocus();
    QTest::keyClicks(odometer(), QString::number(now.whole(session().unit())));
    QTest::keyClick(odometer(), Qt::Key_Return);
    QTest::keyClick(list(), Qt::Key_Q);
    ASSERT_TRUE(waitFor([&] { return lifeOf(first).known > before; })) << said.toStdString();
    ASSERT_TRUE(waitFor([&] { return !isListed(first); }));
    const auto told = toldOf(first);
    ASSERT_FALSE(told.empty());
    EXPECT_EQ(told.back().outcome, core::FollowUpOutcome::Quiet);
    EXPECT_FALSE(told.back().odometerEstimated);
    EXPECT_EQ(told.back().date, session().today());

    saves().undo();
    ASSERT_TRUE(waitFor([&] { return lifeOf(first).known == before && isListed(first); }));
    saves().redo();
    ASSERT_TRUE(waitFor([&] { return lifeOf(first).known > before; }));
}

TEST_F(CallsControllerTest, AnOddOdometerIsAskedAboutAndStoredWhenItIsToldOnceMore) {
    const auto before = toldOf(first).size();
    odometer()->setFocus();
    QTest::keyClicks(odometer(), QStringLiteral("900000"));
    QTest::keyClick(odometer(), Qt::Key_Return);
    QTest::keyClick(list(), Qt::Key_Q);
    const QLabel* note = nullptr;
    ASSERT_TRUE(waitFor([&] {
        for (auto* label : panel.findChildren<QLabel*>())
            if (label->text().contains(QStringLiteral("Not logged yet")))
                note = label;
        return note != nullptr;
    })) << said.toStdString();
    EXPECT_EQ(toldOf(first).size(), before) << "nothing is stored yet";
    EXPECT_EQ(odometer()->text().remove(QChar(u',')), QStringLiteral("900000"))
        << "and nothing typed is lost";
    QTest::keyClick(list(), Qt::Key_Q);
    ASSERT_TRUE(waitFor([&] { return toldOf(first).size() == before + 1; })) << said.toStdString();
}

TEST_F(CallsControllerTest, ANoiseWithoutAnOdometerIsAskedAboutFirst) {
    const auto before = toldOf(first).size();
    QTest::keyClick(list(), Qt::Key_N);
    ASSERT_TRUE(waitFor([this] { return !database().isBusy(); }));
    EXPECT_EQ(toldOf(first).size(), before);
    QTest::keyClick(list(), Qt::Key_N);
    ASSERT_TRUE(waitFor([&] { return toldOf(first).size() == before + 1; })) << said.toStdString();
    EXPECT_EQ(toldOf(first).back().outcome, core::FollowUpOutcome::NoiseBack);
}

TEST_F(CallsControllerTest, ACallLaterIsStoredWithItsDayAndComesBackOnIt) {
    auto* callOn = panel.findChild<ui::DateField*>(QStringLiteral("callOn"));
    QTest::keyClick(list(), Qt::Key_L);
    callOn->selectAll();
    QTest::keyClicks(callOn, QStringLiteral("+21"));
    QTest::keyClick(callOn, Qt::Key_Return);
    ASSERT_TRUE(waitFor([&] { return !isListed(first); })) << said.toStdString();
    const core::Date promised = core::addDays(session().today(), 21);
    EXPECT_EQ(toldOf(first).back().callOn, promised);
    const auto factsOn = [&](core::Date day) {
        return ask([day](storage::Shop& shop) { return shop.followUps().callFacts(day); }).value();
    };
    const auto has = [&](const std::vector<core::CallFacts>& facts) {
        return std::any_of(facts.begin(), facts.end(), [&](const auto& fact) {
            return fact.job == first && fact.promisedOn == promised;
        });
    };
    EXPECT_FALSE(has(factsOn(core::addDays(promised, -1))));
    EXPECT_TRUE(has(factsOn(promised)));
}

TEST_F(CallsControllerTest, AnAnswerIsVoidedWithAReasonFromTheListAndCountsAgain) {
    const core::Distance before = lifeOf(first).known;
    odometer()->setFocus();
    QTest::keyClicks(odometer(),
                     QString::number(panel.calls().front().odometerNow.value().whole(session().unit())));
    QTest::keyClick(odometer(), Qt::Key_Return);
    QTest::keyClick(list(), Qt::Key_Q);
    ASSERT_TRUE(waitFor([&] { return lifeOf(first).known > before; })) << said.toStdString();
    ui::AnswersDialog* dialog = controller->openAnswers();
    ASSERT_TRUE(waitFor([&] { return !dialog->answers().empty(); }));
    EXPECT_EQ(dialog->answers()[0].told.job, first) << "the newest first";
    EXPECT_FALSE(dialog->answers()[0].customer.empty());
    EXPECT_GT(dialog->answers()[0].jobNumber, 0);
    auto* turn = dialog->findChild<QPushButton*>(QStringLiteral("voidAnswer"));
    auto* reason = dialog->findChild<QLineEdit*>(QStringLiteral("voidReason"));
    turn->click();
    QTest::keyClicks(reason, QStringLiteral("The wrong customer"));
    EXPECT_TRUE(tests::keepPictures(*dialog, QStringLiteral("calls-answers"), QSize(1100, 560)));
    QTest::keyClick(reason, Qt::Key_Return);
    ASSERT_TRUE(waitFor([&] { return lifeOf(first).known == before && isListed(first); }))
        << said.toStdString();
    EXPECT_EQ(toldOf(first).back().voidReason, "The wrong customer");
    ASSERT_TRUE(waitFor([&] { return dialog->answers()[0].told.isVoid(); }));
    turn->click();
    ASSERT_TRUE(waitFor([&] { return lifeOf(first).known > before; })) << said.toStdString();
    EXPECT_FALSE(toldOf(first).back().isVoid());
    dialog->close();
}

TEST_F(CallsControllerTest, AnEstimateIsKeptAsOneAndMovesNoKnownDistance) {
    const core::Life before = lifeOf(first);
    QTest::keyClick(list(), Qt::Key_Q);
    ASSERT_TRUE(waitFor([&] { return !isListed(first); })) << said.toStdString();
    const auto told = toldOf(first);
    ASSERT_FALSE(told.empty());
    EXPECT_TRUE(told.back().odometerEstimated);
    ASSERT_TRUE(waitFor([this] { return !database().isBusy(); }));
    EXPECT_EQ(lifeOf(first).known, before.known);
    EXPECT_EQ(lifeOf(first).unseen, before.unseen);
}

TEST_F(CallsControllerTest, ShowsTheDueCallsAloneWhenAsked) {
    auto* show = panel.findChild<QComboBox*>(QStringLiteral("callShow"));
    show->setFocus();
    QTest::keyClick(show, Qt::Key_End); // under warranty
    const auto onlyCovered = [this] {
        for (const auto& call : panel.calls())
            if (!call.call.warrantyOpen)
                return false;
        return !panel.calls().empty();
    };
    EXPECT_TRUE(waitFor(onlyCovered));
    QTest::keyClick(show, Qt::Key_Home);
    QTest::keyClick(show, Qt::Key_Down); // due
    const auto onlyDue = [this] {
        for (const auto& call : panel.calls())
            if (call.due.empty())
                return false;
        return !panel.calls().empty();
    };
    EXPECT_TRUE(waitFor(onlyDue));
}

TEST_F(CallsControllerTest, WhatIsHalfTypedSurvivesAKill) {
    odometer()->setFocus();
    QTest::keyClicks(odometer(), QStringLiteral("123456"));
    const std::string key = callDraftKey(first);
    const auto draft = [&] { return ask([key](storage::Shop& shop) { return shop.drafts().find(key); }); };
    ASSERT_TRUE(waitFor([&] {
        const auto kept = draft();
        const auto typed = kept ? callDraftFromText(kept->text) : std::nullopt;
        return typed && typed->odometer == core::Distance::miles(123'456);
    }));
    // Another window that is opened afterwards shows it again, and the stored answer spends it.
    ui::CallsPanel other;
    CallsController again(other, database(), session());
    ASSERT_TRUE(waitFor([&] { return !other.calls().empty(); }));
    EXPECT_EQ(other.typed().odometer, core::Distance::miles(123'456));
    odometer()->setDistance(std::nullopt);
    QTest::keyClick(list(), Qt::Key_A);
    ASSERT_TRUE(waitFor([&] { return !isListed(first); })) << said.toStdString();
    ASSERT_TRUE(waitFor([&] { return !draft().has_value(); }));
}

TEST_F(CallsControllerTest, DoesNotListWhoMustNotBeCalled) {
    QTest::keyClick(list(), Qt::Key_D);
    ASSERT_TRUE(waitFor([&] { return !isListed(first); })) << said.toStdString();
    const auto facts = ask([today = session().today()](storage::Shop& shop) {
        return shop.followUps().callFacts(core::addDays(today, 90));
    });
    ASSERT_TRUE(facts.has_value());
    for (const core::CallFacts& fact : *facts)
        EXPECT_NE(fact.job, first);
}

TEST_F(CallsControllerTest, TheCalendarHoldsEachCallWithItsPhoneAndNoMoreOfThePerson) {
    const auto made = core::momentFromIso("2031-05-16T09:30:00.000Z").value();
    const QString file = QString::fromStdString(controller->calendar(made).value())
                             .replace(QStringLiteral("\r\n "), QString());
    EXPECT_EQ(file.count(QStringLiteral("BEGIN:VEVENT")), static_cast<int>(panel.calls().size()));
    const auto& call = panel.calls().front();
    EXPECT_TRUE(file.contains(QString::fromStdString(call.phones.front())));
    EXPECT_FALSE(call.plate.empty());
    EXPECT_FALSE(file.contains(QString::fromStdString(call.plate)));
}

TEST_F(CallsControllerTest, TheSheetHoldsTheCallsThatAreListed) {
    ui::CallSheetDialog* dialog = controller->openSheet();
    ASSERT_NE(dialog, nullptr);
    QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("calls.pdf"));
    dialog->savePdf(path);
    EXPECT_GT(QFileInfo(path).size(), 5'000);
    EXPECT_TRUE(tests::keepPictures(*dialog, QStringLiteral("call-sheet-dialog"), QSize(720, 760)));
}

} // namespace
} // namespace milehold::app
