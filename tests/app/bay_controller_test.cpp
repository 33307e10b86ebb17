// SPDX-License-Identifier: GPL-3.0-or-later
// The Bay with a real shop in a temporary folder, driven by keys.
#include "app/desktop/bay_controller.h"
#include "app/desktop/save_history.h"
#include "app/desktop/session_loader.h"
#include "storage/shop.h"
#include "tests/support/bay_sample.h"
#include "ui/bay/bay_room.h"
#include "ui/widgets/record_table.h"

#include <QApplication>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>

#include <gtest/gtest.h>

namespace milehold::app {
namespace {

namespace sample = milehold::tests;

core::Result<void> fill(storage::Shop& shop) {
    const ui::BayContext context = sample::sampleContext();
    const auto save = [](auto& store, auto record) -> core::Result<void> {
        record.revision = 0;
        const auto saved = store.save(record);
        return saved ? core::Result<void>() : core::Result<void>(core::failureOf(saved));
    };
    for (const auto& person : context.staff)
        if (auto done = save(shop.staff(), person); !done)
            return done;
    for (const auto& family : context.shelf->families)
        if (auto done = save(shop.shelf(), family); !done)
            return done;
    for (auto part = context.shelf->parts.rbegin(); part != context.shelf->parts.rend(); ++part)
        if (auto done = save(shop.shelf(), *part); !done)
            return done;
    for (const auto& calibration : context.shelf->calibrations)
        if (auto done = save(shop.shelf(), calibration); !done)
            return done;
    for (const auto& path : context.shelf->paths)
        if (auto done = save(shop.shelf(), path); !done)
            return done;
    const ui::JobCard card = sample::sampleCard();
    if (auto done = save(shop.customers(), *card.customer); !done)
        return done;
    return save(shop.vehicles(), card.vehicle);
}

/// A window's worth of Bay over one open shop.
class Bay {
public:
    explicit Bay(const std::filesystem::path& folder, bool fresh) {
        const ui::BayContext context = sample::sampleContext();
        bool opened = false;
        database.open(
            [folder, fresh, settings = context.settings]() -> core::Result<std::unique_ptr<storage::Shop>> {
                if (!fresh)
                    return storage::Shop::open(folder);
                auto shop = storage::Shop::create(folder, settings);
                if (shop)
                    if (const auto filled = fill(**shop); !filled)
                        return core::failureOf(filled);
                return shop;
            },
            &room,
            [&](core::Result<void> outcome) {
                EXPECT_TRUE(outcome.has_value()) << (outcome ? "" : outcome.error().detail);
                opened = true;
            });
        EXPECT_TRUE(QTest::qWaitFor([&] { return opened; }, 10'000));
        QSignalSpy loaded(&loader, &SessionLoader::loaded);
        loader.load();
        EXPECT_TRUE(loaded.wait(10'000));
        session.setWho(sample::kTechnician);
        controller = std::make_unique<BayController>(room, database, session);
        QObject::connect(controller.get(), &BayController::said,
                         [this](const QString& what) { said << what; });
        QObject::connect(controller.get(), &BayController::needsAttention,
                         [this](const QString& what) { problems << what; });
        room.resize(1200, 740);
        room.show();
        room.activateWindow();
        EXPECT_TRUE(QTest::qWaitForWindowActive(&room));
        settle();
    }
    ~Bay() { controller.reset(); }

    /// Until everything that was asked of the records has come back.
    void settle() {
        QTest::qWait(30);
        EXPECT_TRUE(QTest::qWaitFor([this] { return !database.isBusy(); }, 10'000));
        QTest::qWait(10);
    }
    static void keys(const QString& text) { QTest::keyClicks(QApplication::focusWidget(), text); }
    static void key(Qt::Key key, Qt::KeyboardModifiers modifiers = {}) {
        QTest::keyClick(QApplication::focusWidget(), key, modifiers);
    }
    static QString focusName() {
        const QWidget* widget = QApplication::focusWidget();
        return widget ? widget->objectName() : QString();
    }
    /// Tab until a field has the keyboard; false when it never does.
    bool tabTo(const QString& name) {
        for (int i = 0; i < 120; ++i) {
            if (focusName() == name)
                return true;
            key(Qt::Key_Tab);
        }
        return false;
    }
    core::Result<storage::JobRow> onlyJob() {
        core::Result<storage::JobRow> answer = core::fail(core::ErrorCode::NotFound, "no answer");
        bool done = false;
        database.ask(
            &room, [](storage::Shop& shop) { return shop.jobs().rows({}); },
            [&](core::Result<std::vector<storage::JobRow>> rows) {
                if (rows && rows->size() == 1)
                    answer = rows->front();
                done = true;
            });
        EXPECT_TRUE(QTest::qWaitFor([&] { return done; }, 10'000));
        return answer;
    }
    std::size_t draftCount() {
        std::size_t count = 99;
        bool done = false;
        database.ask(
            &room, [](storage::Shop& shop) { return shop.drafts().list(); },
            [&](core::Result<std::vector<storage::Draft>> drafts) {
                if (drafts)
                    count = drafts->size();
                done = true;
            });
        EXPECT_TRUE(QTest::qWaitFor([&] { return done; }, 10'000));
        return count;
    }

    ui::BayRoom room;
    Database database;
    Session session{[] { return sample::sampleContext().today; }};
    SessionLoader loader{database, session};
    SaveHistory history{database};
    std::unique_ptr<BayController> controller;
    QStringList said;
    QStringList problems;
};

class BayTest : public testing::Test {
protected:
    std::filesystem::path folder() const {
        return folder_.filePath("hollow-creek.milehold").toStdU16String();
    }
    QTemporaryDir folder_;

    /// From the list to a filled sheet, hands on the keyboard only.
    static void typeAFinishedJob(Bay& bay) {
        bay.room.jobs()->focusList();
        Bay::key(Qt::Key_N);
        bay.settle();
        ASSERT_EQ(Bay::focusName(), QStringLiteral("vehicleSearch"));
        Bay::keys(QStringLiteral("10TVA3E25LB004821")); // what a scanner types
        Bay::key(Qt::Key_Return);
        bay.settle();
        ASSERT_FALSE(bay.room.sheet()->isAskingForVehicle());
        ASSERT_EQ(Bay::focusName(), QStringLiteral("odometerIn"));
        Bay::keys(QStringLiteral("84120"));
        Bay::key(Qt::Key_Tab);
        Bay::keys(QStringLiteral("84126"));
        ASSERT_TRUE(bay.tabTo(QStringLiteral("path")));
        Bay::key(Qt::Key_1); // "All four phasers", the first by name
    }
};

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

TEST_F(BayTest, MakesANewVehicleFromAScan) {
    Bay bay(folder(), true);
    bay.controller->newJob();
    bay.settle();
    Bay::keys(
        QStringLiteral("I1M8GDM9AXKP042788")); // 49 CFR 565.15's example with Code 39's import mark before it
    Bay::key(Qt::Key_Return);
    bay.settle();
    ASSERT_FALSE(bay.room.sheet()->isAskingForVehicle());
    EXPECT_TRUE(bay.room.sheet()->form()->isVehicleShown());
    const ui::JobCard card = bay.room.sheet()->form()->card();
    EXPECT_EQ(card.vehicle.vin, "1M8GDM9AXKP042788");
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
        return label->text().contains(QStringLiteral("Jessa Okonjo changed correction"));
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
