// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shell/help_viewer.h"
#include "ui/shell/main_window.h"
#include "ui/shell/message_bar.h"
#include "ui/shell/rail.h"
#include "ui/shell/shortcuts_sheet.h"
#include "ui/theme/theme.h"
#include "ui/widgets/search_box.h"
#include "ui/widgets/segmented.h"

#include <QAccessible>
#include <QApplication>
#include <QLabel>
#include <QMenu>
#include <QProgressBar>
#include <QPushButton>
#include <QSignalSpy>
#include <QTest>
#include <QTextBrowser>
#include <QToolButton>

#include <gtest/gtest.h>

using namespace milehold;
using namespace milehold::ui;

namespace {

struct Bench {
    MainWindow window;
    QLineEdit* field = new QLineEdit;

    Bench() {
        window.addRoom("bay", "Bay", "bay", field);
        window.addRoom("counter", "Counter", "counter", new QWidget);
        window.addRoom("office", "Office", "office", new QWidget);
        window.addRoom("shelf", "Shelf", "shelf", new QWidget);
        window.show();
        window.activateWindow();
        EXPECT_TRUE(QTest::qWaitForWindowActive(&window));
    }
    QToolButton* toolNamed(const QString& start) {
        for (QToolButton* tool : window.findChildren<QToolButton*>()) {
            if (tool->accessibleName().startsWith(start))
                return tool;
        }
        return nullptr;
    }
};

} // namespace

TEST(MainWindow, OpensRoomsByNumberAndByTheRail) {
    Bench bench;
    QSignalSpy shown(&bench.window, &MainWindow::roomShown);
    EXPECT_EQ(bench.window.currentRoom(), "bay");
    QTest::keyClick(&bench.window, Qt::Key_3, Qt::AltModifier);
    EXPECT_EQ(bench.window.currentRoom(), "office");
    EXPECT_TRUE(bench.window.room("office")->isVisible());
    QTest::keyClick(&bench.window, Qt::Key_2, Qt::ControlModifier);
    EXPECT_EQ(bench.window.currentRoom(), "counter");
    auto* rail = bench.window.findChild<Rail*>();
    ASSERT_NE(rail, nullptr);
    QTest::keyClick(rail, Qt::Key_Down);
    EXPECT_EQ(bench.window.currentRoom(), "office");
    EXPECT_EQ(shown.count(), 3);
}

TEST(MainWindow, TellsReadersTheRoomsAndWhatWaitsThere) {
    Bench bench;
    bench.window.setRoomCount("counter", 7);
    auto* rail = bench.window.findChild<Rail*>();
    QAccessibleInterface* list = QAccessible::queryAccessibleInterface(rail);
    ASSERT_NE(list, nullptr);
    EXPECT_EQ(list->role(), QAccessible::List);
    ASSERT_EQ(list->childCount(), 4);
    EXPECT_EQ(list->child(1)->text(QAccessible::Name), "Counter, 7 waiting");
    EXPECT_TRUE(list->child(0)->state().selected);
}

TEST(MainWindow, SearchesFromAnywhere) {
    Bench bench;
    QTest::keyClick(&bench.window, Qt::Key_K, Qt::ControlModifier);
    EXPECT_TRUE(bench.window.search()->hasFocus());
    bench.field->setFocus();
    QTest::keyClick(bench.field, Qt::Key_Slash);
    EXPECT_EQ(bench.field->text(), "/") << "in a field it is a character";
    bench.window.findChild<Rail*>()->setFocus();
    QTest::keyClick(bench.window.findChild<Rail*>(), Qt::Key_Slash);
    EXPECT_TRUE(bench.window.search()->hasFocus());
}

TEST(MainWindow, TakesBackOnlyWhatThereIs) {
    Bench bench;
    bench.window.findChild<Rail*>()->setFocus();
    QSignalSpy undo(&bench.window, &MainWindow::undoWanted);
    QTest::keyClick(&bench.window, Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(undo.count(), 0);
    bench.window.setUndoText("job 1204");
    QTest::keyClick(&bench.window, Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(undo.count(), 1);
    ASSERT_NE(bench.toolNamed("Take back: job 1204"), nullptr);
}

TEST(MainWindow, AsksForUnitSchemeAndPerson) {
    Bench bench;
    QSignalSpy unit(&bench.window, &MainWindow::unitChosen);
    QSignalSpy scheme(&bench.window, &MainWindow::schemeChosen);
    QSignalSpy person(&bench.window, &MainWindow::personChosen);
    bench.window.setUnit(core::DistanceUnit::Kilometres);
    EXPECT_EQ(unit.count(), 0) << "a value set is no wish";
    EXPECT_EQ(bench.window.unit(), core::DistanceUnit::Kilometres);
    bench.window.findChild<Segmented*>()->button(0)->click();
    ASSERT_EQ(unit.count(), 1);
    EXPECT_EQ(bench.window.unit(), core::DistanceUnit::Miles);
    QToolButton* dark = bench.toolNamed("Switch to dark");
    ASSERT_NE(dark, nullptr);
    dark->click();
    ASSERT_EQ(scheme.count(), 1);
    EXPECT_EQ(scheme.first().first().value<Scheme>(), Scheme::Dark);
    EXPECT_NE(bench.toolNamed("Switch to light"), nullptr);
    bench.window.setPeople({"Ilse Marten", "Jory Pell"}, "Ilse Marten");
    QToolButton* here = bench.toolNamed("At this station: Ilse Marten");
    ASSERT_NE(here, nullptr);
    here->menu()->actions().at(1)->trigger();
    ASSERT_EQ(person.count(), 1);
    // The program answers a choice with a new list while the old menu is still open.
    QObject::connect(&bench.window, &MainWindow::personChosen, &bench.window, [&bench](const QString& name) {
        bench.window.setPeople({"Ilse Marten", "Jory Pell"}, name);
    });
    here->menu()->actions().at(1)->trigger();
    EXPECT_NE(bench.toolNamed("At this station: Jory Pell"), nullptr);
    EXPECT_EQ(person.first().first().toString(), "Jory Pell");
}

TEST(MainWindow, OffersTheOtherColoursWhoeverSwitchedThem) {
    Bench bench;
    theme::apply(*qApp, Scheme::Dark);
    QApplication::processEvents();
    EXPECT_NE(bench.toolNamed("Switch to light"), nullptr);
    theme::apply(*qApp, Scheme::Light);
    QApplication::processEvents();
    EXPECT_NE(bench.toolNamed("Switch to dark"), nullptr);
}

TEST(MainWindow, ShowsWorkWithProgressAndStopsIt) {
    Bench bench;
    auto* bar = bench.window.findChild<QProgressBar*>();
    ASSERT_NE(bar, nullptr);
    EXPECT_FALSE(bar->isVisible());
    bench.window.setWork({{41, "Drawing curves", 0.25, true}});
    EXPECT_TRUE(bar->isVisible());
    EXPECT_EQ(bar->value(), 250);
    QSignalSpy cancelled(&bench.window, &MainWindow::workCancelled);
    QToolButton* stop = bench.toolNamed("Stop: Drawing curves");
    ASSERT_NE(stop, nullptr);
    stop->click();
    ASSERT_EQ(cancelled.count(), 1);
    EXPECT_EQ(cancelled.first().first().toInt(), 41);
    bench.window.setWork({});
    EXPECT_FALSE(bar->isVisible());
}

TEST(MainWindow, ClosesOnlyWhenItMay) {
    Bench bench;
    bool may = false;
    QObject::connect(&bench.window, &MainWindow::closing, &bench.window,
                     [&may](bool* allow) { *allow = may; });
    EXPECT_FALSE(bench.window.close());
    EXPECT_TRUE(bench.window.isVisible());
    may = true;
    EXPECT_TRUE(bench.window.close());
}

TEST(MainWindow, HelpsByKey) {
    Bench bench;
    EXPECT_FALSE(HelpViewer::pages().isEmpty()) << "the manual travels inside the program";
    QTest::keyClick(&bench.window, Qt::Key_F1);
    auto* help = bench.window.findChild<HelpViewer*>();
    ASSERT_NE(help, nullptr);
    EXPECT_TRUE(help->isVisible());
    help->showPage("window");
    EXPECT_TRUE(help->findChild<QTextBrowser*>()->toPlainText().contains("The window"));
    help->close();
    bench.window.showShortcuts();
    auto* sheet = bench.window.findChild<ShortcutsSheet*>();
    ASSERT_NE(sheet, nullptr);
    EXPECT_TRUE(sheet->isVisible());
    EXPECT_LE(sheet->height(), 720) << "it is seen whole on a screen of 1280 by 800";
    sheet->close();
}

TEST(MessageBar, KeepsOneMessageAMatterUntilItIsDealtWith) {
    MessageBar bar;
    bar.show({"stale", MessageBar::Kind::NeedsYou, "Three facts are stale.", {"Show them"}, true});
    bar.show({"stale", MessageBar::Kind::NeedsYou, "Four facts are stale.", {"Show them"}, true});
    bar.show({"disk", MessageBar::Kind::Wrong, "The disk is full.", {}, false});
    EXPECT_EQ(bar.count(), 2);
    QStringList texts;
    for (const QLabel* label : bar.findChildren<QLabel*>()) {
        if (label->isVisibleTo(&bar))
            texts << label->text();
    }
    EXPECT_EQ(texts, (QStringList{"Four facts are stale.", "The disk is full."}));
    QSignalSpy action(&bar, &MessageBar::actionChosen);
    QSignalSpy dismissed(&bar, &MessageBar::dismissed);
    for (QPushButton* button : bar.findChildren<QPushButton*>()) {
        if (button->isVisibleTo(&bar))
            button->click();
    }
    ASSERT_EQ(action.count(), 1);
    EXPECT_EQ(action.first()[0].toString(), "stale");
    for (QToolButton* close : bar.findChildren<QToolButton*>()) {
        if (close->isVisibleTo(&bar))
            close->click();
    }
    EXPECT_EQ(dismissed.count(), 1) << "what is wrong cannot be put away";
    EXPECT_EQ(bar.count(), 1);
    bar.remove("disk");
    EXPECT_EQ(bar.count(), 0);
    EXPECT_FALSE(bar.isVisibleTo(nullptr));
}
