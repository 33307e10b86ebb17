// SPDX-License-Identifier: GPL-3.0-or-later
// What is half typed in the Bay is kept and offered again.
#include "tests/app/open_bay.h"
#include "ui/widgets/record_table.h"

#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalSpy>

namespace milehold::app {
namespace {

namespace sample = milehold::tests;

TEST_F(BayTest, OffersWhatWasTypedAgainAfterTheProgramWasKilled) {
    {
        Bay bay(folder(), true);
        typeAFinishedJob(bay);
        ASSERT_TRUE(bay.tabTo(QStringLiteral("concern")));
        Bay::keys(QStringLiteral("rattles every morn"));
        bay.settle();
        QTest::qWait(600);
        bay.settle();
        EXPECT_EQ(bay.draftCount(), 1U);
        // Nothing is closed or flushed by the form from here on: what is not on disk is lost.
        QObject::disconnect(bay.room.sheet(), nullptr, bay.controller.get(), nullptr);
    }
    Bay bay(folder(), false);
    const auto buttons = bay.room.jobs()->findChildren<QPushButton*>();
    const auto resume = std::find_if(buttons.begin(), buttons.end(), [](const QPushButton* button) {
        return button->text().remove('&') == QStringLiteral("Go on with it");
    });
    ASSERT_NE(resume, buttons.end());
    (*resume)->click();
    bay.settle();
    ASSERT_TRUE(bay.room.isSheetOpen());
    const ui::JobCard card = bay.room.sheet()->form()->card();
    EXPECT_EQ(card.job.odometerOut, core::Distance::miles(84'126));
    EXPECT_EQ(card.job.path, sample::kPhasers);
    EXPECT_EQ(card.job.parts.size(), 4U);
    EXPECT_EQ(card.job.concern, "rattles every morn");
    EXPECT_EQ(card.vehicle.plate, "KTR 0402");
    EXPECT_TRUE(bay.room.sheet()->form()->isEdited());
    bay.room.sheet()->save();
    bay.room.sheet()->save();
    bay.settle();
    EXPECT_TRUE(bay.onlyJob().has_value());
    EXPECT_EQ(bay.draftCount(), 0U);
}

TEST_F(BayTest, OpensASavedJobWithWhatWasTypedIntoItAndNotSaved) {
    Bay bay(folder(), true);
    typeAFinishedJob(bay);
    for (int press = 0; press < 2; ++press) { // a missing delivery check is asked about once
        Bay::key(Qt::Key_S, Qt::ControlModifier);
        bay.settle();
    }
    const auto job = bay.onlyJob();
    ASSERT_TRUE(job.has_value());
    const auto repairOrder = [&bay] {
        return bay.room.sheet()->findChild<QLineEdit*>(QStringLiteral("repairOrder"));
    };
    bay.controller->openJob(job->id);
    bay.settle();
    repairOrder()->setFocus();
    repairOrder()->selectAll();
    Bay::keys(QStringLiteral("RO-7"));
    bay.settle();
    Bay::key(Qt::Key_Escape);
    bay.settle();
    ASSERT_EQ(bay.draftCount(), 1U);
    bay.controller->openJob(job->id);
    bay.settle();
    bay.settle();
    EXPECT_EQ(repairOrder()->text(), QStringLiteral("RO-7"));
    repairOrder()->setFocus();
    Bay::key(Qt::Key_End);
    Bay::keys(QStringLiteral("7"));
    Bay::key(Qt::Key_S, Qt::ControlModifier);
    bay.settle();
    Bay::key(Qt::Key_S, Qt::ControlModifier);
    bay.settle();
    ASSERT_TRUE(bay.onlyJob().has_value());
    EXPECT_EQ(bay.onlyJob()->repairOrder, "RO-77");
    EXPECT_EQ(bay.draftCount(), 0U);
}

TEST_F(BayTest, KeepsTextThatIsNoValueYetInTheDraft) {
    {
        Bay bay(folder(), true);
        typeAFinishedJob(bay);
        ASSERT_TRUE(bay.tabTo(QStringLiteral("started")));
        Bay::keys(QStringLiteral("5/"));
        QTest::qWait(600);
        bay.settle();
    }
    Bay bay(folder(), false);
    const auto buttons = bay.room.jobs()->findChildren<QPushButton*>();
    for (auto* button : buttons)
        if (button->text().remove('&') == QStringLiteral("Go on with it")) {
            button->click();
            break;
        }
    bay.settle();
    auto* started = bay.room.sheet()->findChild<QLineEdit*>(QStringLiteral("started"));
    ASSERT_NE(started, nullptr);
    EXPECT_EQ(started->text(), QStringLiteral("5/"));
    bay.room.sheet()->save(); // and it cannot be saved as if nothing stood there
    bay.settle();
    EXPECT_FALSE(bay.onlyJob().has_value());
}

} // namespace
} // namespace milehold::app
