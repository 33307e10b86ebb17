// SPDX-License-Identifier: GPL-3.0-or-later
// The Bay joined with a real shop.
#include "tests/app/open_bay.h"
#include "ui/widgets/record_table.h"

#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalSpy>

namespace milehold::app {
namespace {

namespace sample = milehold::tests;

TEST_F(BayTest, LogsAFinishedJobByKeysAloneAndShowsItInTheList) {
    Bay bay(folder(), true);
    typeAFinishedJob(bay);
    ASSERT_TRUE(bay.tabTo(QStringLiteral("after.soakHours")));
    Bay::keys(QStringLiteral("12"));
    Bay::key(Qt::Key_Backtab);
    Bay::key(Qt::Key_Left); // from "not done" to "still noisy"
    Bay::key(Qt::Key_Left); // to "quiet"
    Bay::key(Qt::Key_S, Qt::ControlModifier);
    bay.settle();
    const auto job = bay.onlyJob();
    ASSERT_TRUE(job.has_value());
    EXPECT_EQ(job->number, 1);
    EXPECT_EQ(job->path, sample::kPhasers);
    EXPECT_EQ(job->odometerIn, core::Distance::miles(84'120));
    EXPECT_EQ(job->odometerOut, core::Distance::miles(84'126));
    EXPECT_EQ(job->deliveryCheck, core::DeliveryCheck::Quiet);
    EXPECT_EQ(job->technician, sample::kTechnician);
    EXPECT_EQ(job->delivered, sample::sampleContext().today);
    ASSERT_FALSE(bay.said.isEmpty());
    EXPECT_EQ(bay.said.last(), QStringLiteral("Saved job 1. Undo: Ctrl+Z"));
    EXPECT_FALSE(bay.room.isSheetOpen());
    ASSERT_EQ(bay.room.jobs()->model()->rowCount(), 1);
    EXPECT_EQ(standingOf(bay.room.jobs()->model()->job(0)), ui::JobStanding::Holding);
    EXPECT_EQ(bay.draftCount(), 0U);
    EXPECT_TRUE(bay.problems.isEmpty()) << bay.problems.join('\n').toStdString();
}

TEST_F(BayTest, UndoVoidsANewJobAndSaysWhy) {
    Bay bay(folder(), true);
    typeAFinishedJob(bay);
    Bay::key(Qt::Key_S, Qt::ControlModifier);
    bay.settle();
    EXPECT_FALSE(bay.onlyJob().has_value()); // the missing delivery check is asked about once
    Bay::key(Qt::Key_S, Qt::ControlModifier);
    bay.settle();
    ASSERT_TRUE(bay.onlyJob().has_value());
    ASSERT_TRUE(bay.history.canUndo());
    bay.history.undo();
    bay.settle();
    auto job = bay.onlyJob();
    ASSERT_TRUE(job.has_value());
    EXPECT_TRUE(job->voided);
    bay.history.redo();
    bay.settle();
    job = bay.onlyJob();
    ASSERT_TRUE(job.has_value());
    EXPECT_FALSE(job->voided);
}

TEST_F(BayTest, MakesANewVehicleFromAScan) {
    Bay bay(folder(), true);
    bay.controller->newJob();
    bay.settle();
    Bay::keys(QStringLiteral("I0TK4RM27XKP042788")); // with Code 39's import mark before it
    Bay::key(Qt::Key_Return);
    bay.settle();
    ASSERT_FALSE(bay.room.sheet()->isAskingForVehicle());
    EXPECT_TRUE(bay.room.sheet()->form()->isVehicleShown());
    const ui::JobCard card = bay.room.sheet()->form()->card();
    EXPECT_EQ(card.vehicle.vin, "0TK4RM27XKP042788");
    EXPECT_EQ(card.vehicle.modelYear, 1989);
}

TEST_F(BayTest, ContinuesAJobInWorkAndDeliversItLater) {
    Bay bay(folder(), true);
    typeAFinishedJob(bay);
    ui::JobForm* form = bay.room.sheet()->form();
    ui::JobCard card = form->card();
    card.job.delivered.reset();
    card.job.odometerOut.reset();
    form->setCard(form->stored(), card);
    bay.room.sheet()->save();
    bay.settle();
    auto job = bay.onlyJob();
    ASSERT_TRUE(job.has_value());
    EXPECT_FALSE(job->delivered.has_value());
    ASSERT_EQ(bay.room.jobs()->model()->rowCount(), 1);
    EXPECT_EQ(standingOf(bay.room.jobs()->model()->job(0)), ui::JobStanding::InWork);

    Bay::key(Qt::Key_Return); // in the list, on the job just saved
    bay.settle();
    ASSERT_TRUE(bay.room.isSheetOpen());
    EXPECT_EQ(form->stored().job.number, 1);
    ASSERT_TRUE(bay.tabTo(QStringLiteral("odometerIn")));
    card = form->card();
    card.job.delivered = sample::sampleContext().today;
    card.job.odometerOut = core::Distance::miles(84'130);
    card.job.deliveryCheck = core::DeliveryCheck::Quiet;
    form->setCard(form->stored(), card);
    bay.room.sheet()->save();
    bay.settle();
    job = bay.onlyJob();
    ASSERT_TRUE(job.has_value());
    EXPECT_EQ(job->odometerOut, core::Distance::miles(84'130));
    bay.history.undo(); // back to what it held before this save
    bay.settle();
    job = bay.onlyJob();
    ASSERT_TRUE(job.has_value());
    EXPECT_FALSE(job->delivered.has_value());
    EXPECT_FALSE(job->odometerOut.has_value());
}

TEST_F(BayTest, KeepsThePersonsTextWhenSomebodyElseSavedFirst) {
    Bay bay(folder(), true);
    typeAFinishedJob(bay);
    bay.room.sheet()->save();
    bay.room.sheet()->save();
    bay.settle();
    const auto job = bay.onlyJob();
    ASSERT_TRUE(job.has_value());
    bay.controller->openJob(job->id);
    bay.settle();
    ASSERT_TRUE(bay.tabTo(QStringLiteral("cause")));
    Bay::keys(QStringLiteral("worn lock pin"));

    bool done = false;
    bay.database.ask(
        &bay.room,
        [id = job->id](storage::Shop& shop) -> core::Result<void> {
            shop.setWho({sample::kAdvisor, "front desk"});
            auto stored = shop.jobs().find(id);
            if (!stored)
                return core::failureOf(stored);
            stored->correction = "replaced all four";
            const auto saved = shop.jobs().save({*stored, std::nullopt, std::nullopt});
            return saved ? core::Result<void>() : core::Result<void>(core::failureOf(saved));
        },
        [&](core::Result<void> outcome) {
            EXPECT_TRUE(outcome.has_value());
            done = true;
        });
    EXPECT_TRUE(QTest::qWaitFor([&] { return done; }, 10'000));

    bay.room.sheet()->save();
    bay.room.sheet()->save();
    bay.settle();
    ASSERT_TRUE(bay.room.isSheetOpen());
    EXPECT_EQ(bay.room.sheet()->form()->card().job.cause, "worn lock pin");
    const auto labels = bay.room.sheet()->findChildren<QLabel*>();
    EXPECT_TRUE(std::any_of(labels.begin(), labels.end(), [](const QLabel* label) {
        return label->text().contains(QStringLiteral("meanwhile Jessa Okonjo changed job")) &&
               label->text().contains(QStringLiteral("(correction)"));
    }));
    const auto buttons = bay.room.sheet()->findChildren<QPushButton*>();
    const auto merge = std::find_if(buttons.begin(), buttons.end(), [](const QPushButton* button) {
        return button->text().remove('&') == QStringLiteral("Put my changes on top");
    });
    ASSERT_NE(merge, buttons.end());
    (*merge)->click();
    bay.settle();
    const core::Job merged = bay.room.sheet()->form()->card().job;
    EXPECT_EQ(merged.cause, "worn lock pin");
    EXPECT_EQ(merged.correction, "replaced all four");
    bay.room.sheet()->save();
    bay.room.sheet()->save();
    bay.settle();
    EXPECT_FALSE(bay.room.isSheetOpen());
}

TEST_F(BayTest, VoidsAJobWithAReasonAndTakesItBack) {
    Bay bay(folder(), true);
    typeAFinishedJob(bay);
    bay.room.sheet()->save();
    bay.room.sheet()->save();
    bay.settle();
    auto job = bay.onlyJob();
    ASSERT_TRUE(job.has_value());
    bay.controller->openJob(job->id);
    bay.settle();
    emit bay.room.sheet()->voidWanted(QStringLiteral("entered twice"));
    bay.settle();
    job = bay.onlyJob();
    ASSERT_TRUE(job.has_value());
    EXPECT_TRUE(job->voided);
    bay.history.undo();
    bay.settle();
    job = bay.onlyJob();
    ASSERT_TRUE(job.has_value());
    EXPECT_FALSE(job->voided);
}

TEST_F(BayTest, ShowsTheJobsBehindAFigureAndSaysWhichFigure) {
    Bay bay(folder(), true);
    typeAFinishedJob(bay);
    bay.room.sheet()->save();
    bay.room.sheet()->save();
    bay.settle();
    const auto job = bay.onlyJob();
    ASSERT_TRUE(job.has_value());
    bay.controller->showJobs({job->id}, QStringLiteral("The 1 repair behind \"All four phasers\""));
    bay.settle();
    ASSERT_EQ(bay.room.jobs()->model()->rowCount(), 1);
    EXPECT_EQ(bay.room.jobs()->query().shown, ui::JobsShown::Given);
    bay.controller->showJobs({}, QStringLiteral("Nothing behind it"));
    bay.settle();
    EXPECT_EQ(bay.room.jobs()->model()->rowCount(), 0); // and not the whole book
}

} // namespace
} // namespace milehold::app
