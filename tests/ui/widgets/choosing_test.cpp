// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/theme.h"
#include "ui/widgets/engine_plan.h"
#include "ui/widgets/engine_tile.h"
#include "ui/widgets/segmented.h"
#include "ui/widgets/status.h"

#include <QAccessible>
#include <QLineEdit>
#include <QPainter>
#include <QSignalSpy>
#include <QTest>
#include <QVBoxLayout>

#include <gtest/gtest.h>

using namespace milehold;
using namespace milehold::ui;
using core::CamRole;
using core::Position;

namespace {

const Position kB1In{1, CamRole::Intake};
const Position kB1Ex{1, CamRole::Exhaust};
const Position kB2In{2, CamRole::Intake};
const Position kB2Ex{2, CamRole::Exhaust};
using Chosen = std::set<Position>;

/// A plan between two fields, in an active window.
struct Bench {
    QWidget window;
    QLineEdit* before = new QLineEdit(&window);
    EnginePlan* plan = new EnginePlan(&window);
    QLineEdit* after = new QLineEdit(&window);

    explicit Bench(int banks = 2) {
        auto* stack = new QVBoxLayout(&window);
        stack->addWidget(before);
        stack->addWidget(plan);
        stack->addWidget(after);
        std::vector<Position> positions = {kB1In, kB1Ex};
        if (banks == 2)
            positions.insert(positions.end(), {kB2In, kB2Ex});
        plan->setEngine(banks, positions);
        window.resize(700, 320);
        window.show();
        window.activateWindow();
        EXPECT_TRUE(QTest::qWaitForWindowActive(&window));
        before->setFocus();
    }
    QList<EngineTile*> tiles() const {
        QList<EngineTile*> shown;
        for (EngineTile* tile : plan->findChildren<EngineTile*>()) {
            if (tile->isVisible())
                shown << tile;
        }
        return shown;
    }
    void key(int key, Qt::KeyboardModifiers with = Qt::NoModifier) {
        QTest::keyClick(QApplication::focusWidget(), static_cast<Qt::Key>(key), with);
    }
};

} // namespace

TEST(EnginePlan, LiesAsAnEngineSeenFromTheFront) {
    Bench bench;
    EXPECT_EQ(bench.plan->positions(), (std::vector<Position>{kB2Ex, kB2In, kB1In, kB1Ex}));
    const auto tiles = bench.tiles();
    ASSERT_EQ(tiles.size(), 4);
    for (qsizetype i = 1; i < tiles.size(); ++i)
        EXPECT_GT(tiles[i]->x(), tiles[i - 1]->geometry().right());
}

TEST(EnginePlan, IsChosenFromByKeysAlone) {
    Bench bench;
    QSignalSpy changed(bench.plan, &EnginePlan::chosenChanged);
    bench.key(Qt::Key_Tab);
    EXPECT_TRUE(bench.plan->isAncestorOf(QApplication::focusWidget()));
    bench.key(Qt::Key_Space);
    EXPECT_EQ(bench.plan->chosen(), Chosen{kB2Ex});
    bench.key(Qt::Key_Right);
    bench.key(Qt::Key_Right);
    bench.key(Qt::Key_Space);
    EXPECT_EQ(bench.plan->chosen(), (Chosen{kB2Ex, kB1In}));
    bench.key(Qt::Key_Home);
    bench.key(Qt::Key_Space);
    EXPECT_EQ(bench.plan->chosen(), Chosen{kB1In});
    bench.key(Qt::Key_A, Qt::ControlModifier);
    EXPECT_EQ(bench.plan->chosen().size(), 4U);
    bench.key(Qt::Key_Escape);
    EXPECT_TRUE(bench.plan->chosen().empty());
    bench.key(Qt::Key_4);
    EXPECT_EQ(bench.plan->chosen(), Chosen{kB1Ex});
    EXPECT_EQ(changed.count(), 6);
}

TEST(EnginePlan, IsOneTabStopThatRemembersItsPlace) {
    Bench bench;
    bench.key(Qt::Key_Tab);
    bench.key(Qt::Key_End);
    EXPECT_EQ(QApplication::focusWidget()->accessibleName(), "Bank 1 exhaust");
    bench.key(Qt::Key_Tab);
    EXPECT_EQ(QApplication::focusWidget(), bench.after);
    bench.key(Qt::Key_Backtab, Qt::ShiftModifier);
    EXPECT_EQ(QApplication::focusWidget()->accessibleName(), "Bank 1 exhaust");
    bench.key(Qt::Key_Backtab, Qt::ShiftModifier);
    EXPECT_EQ(QApplication::focusWidget(), bench.before);
}

TEST(EnginePlan, IsChosenFromByTaps) {
    Bench bench(1);
    const auto tiles = bench.tiles();
    ASSERT_EQ(tiles.size(), 2);
    QTest::mouseClick(tiles[1], Qt::LeftButton);
    EXPECT_EQ(bench.plan->chosen(), Chosen{kB1Ex});
    QTest::mouseClick(tiles[1], Qt::LeftButton);
    EXPECT_TRUE(bench.plan->chosen().empty());
    for (const EngineTile* tile : tiles) {
        EXPECT_GE(tile->width(), 80) << "wide enough for a glove";
        EXPECT_GE(tile->height(), 64);
    }
}

TEST(EnginePlan, TellsReadersWhatHappenedToEachPhaser) {
    Bench bench;
    bench.plan->setStates({{kB1In, {PhaserWork::Replaced, true, "TP-4410 C"}}});
    for (EngineTile* tile : bench.tiles()) {
        QAccessibleInterface* reader = QAccessible::queryAccessibleInterface(tile);
        ASSERT_NE(reader, nullptr);
        EXPECT_EQ(reader->role(), QAccessible::CheckBox);
        if (tile->position() != kB1In)
            continue;
        EXPECT_EQ(reader->text(QAccessible::Name), "Bank 1 intake");
        EXPECT_EQ(reader->text(QAccessible::Description), "Replaced, noisy, TP-4410 C");
        EXPECT_FALSE(reader->state().checked);
        tile->setChecked(true);
        EXPECT_TRUE(reader->state().checked);
    }
}

TEST(EnginePlan, ReadOnlyCannotBeChanged) {
    Bench bench;
    bench.plan->setChosen({kB1In});
    bench.plan->setReadOnly(true);
    bench.key(Qt::Key_Tab);
    EXPECT_EQ(QApplication::focusWidget(), bench.after);
    QTest::keyClick(bench.plan, Qt::Key_A, Qt::ControlModifier);
    EXPECT_EQ(bench.plan->chosen(), Chosen{kB1In});
}

TEST(EnginePlan, DropsWhatTheNewEngineDoesNotHave) {
    Bench bench;
    bench.plan->setChosen({kB1In, kB2In});
    bench.plan->setEngine(1, {kB1In, kB1Ex});
    EXPECT_EQ(bench.plan->chosen(), Chosen{kB1In});
    bench.plan->setEngine(1, {});
    EXPECT_TRUE(bench.plan->chosen().empty());
    EXPECT_FALSE(bench.plan->grab().isNull());
}

TEST(EngineBadge, SaysInWordsWhatItShows) {
    EngineBadge badge{2, {kB1In, kB1Ex, kB2In, kB2Ex}, {}};
    EXPECT_EQ(describe(badge), "No phaser touched");
    badge.states = {{kB1In, {PhaserWork::Replaced, false, {}}},
                    {kB1Ex, {PhaserWork::Reused, false, {}}},
                    {kB2In, {PhaserWork::Replaced, true, {}}}};
    EXPECT_EQ(describe(badge), "Replaced: B1 intake, B2 intake; Reused: B1 exhaust; Noisy: B2 intake");
}

TEST(EngineBadge, FillsWhatWasReplacedAndStaysInItsPlace) {
    const Tokens t = tokensFor(Scheme::Light);
    const EngineBadge plain{1, {kB1In, kB1Ex}, {}};
    EngineBadge replaced = plain;
    replaced.states[kB1In] = {PhaserWork::Replaced, true, {}};
    const auto inked = [&t](const EngineBadge& badge, int* outside) {
        QImage picture(80, 44, QImage::Format_RGB32);
        picture.fill(Qt::white);
        QPainter painter(&picture);
        paintEngineBadge(painter, QRectF(10, 10, engineBadgeWidth(badge, 24), 24), badge, t);
        painter.end();
        int inside = 0;
        for (int y = 0; y < 44; ++y) {
            for (int x = 0; x < 80; ++x) {
                if (qGray(picture.pixel(x, y)) > 200)
                    continue;
                const bool in = x >= 8 && x <= 10 + engineBadgeWidth(badge, 24) + 2 && y >= 8 && y <= 35;
                (in ? inside : *outside) += 1;
            }
        }
        return inside;
    };
    int outside = 0;
    const int before = inked(plain, &outside);
    const int after = inked(replaced, &outside);
    EXPECT_GT(before, 20);
    EXPECT_GT(after, before + 30);
    EXPECT_EQ(outside, 0);
}

TEST(Segmented, ChoosesByArrowsAndIsOneTabStop) {
    QWidget window;
    auto* stack = new QVBoxLayout(&window);
    auto* choice = new Segmented({"Quiet", "Noisy", "Not done"}, &window);
    auto* next = new QLineEdit(&window);
    stack->addWidget(choice);
    stack->addWidget(next);
    window.show();
    window.activateWindow();
    ASSERT_TRUE(QTest::qWaitForWindowActive(&window));
    EXPECT_EQ(choice->current(), -1);
    QSignalSpy chosen(choice, &Segmented::chosen);
    choice->setCurrent(0);
    EXPECT_EQ(chosen.count(), 0) << "setting is not choosing";
    choice->setFocus();
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Right);
    EXPECT_EQ(choice->current(), 1);
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Right);
    EXPECT_EQ(choice->current(), 2);
    ASSERT_EQ(chosen.count(), 2);
    EXPECT_EQ(chosen.last().first().toInt(), 2);
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
    EXPECT_EQ(QApplication::focusWidget(), next);
    choice->setCurrent(-1);
    EXPECT_EQ(choice->current(), -1);
    choice->setFocus();
    choice->setCurrent(0); // as a shortcut of the room does, while the keyboard is here
    EXPECT_TRUE(choice->button(0)->hasFocus());
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Right);
    EXPECT_EQ(choice->current(), 1) << "the arrow starts from what is chosen";
}

TEST(Status, DiffersInShapeAndWordForEveryState) {
    std::set<std::pair<int, QString>> seen;
    std::set<int> shapes;
    for (int i = 0; i < 5; ++i) {
        const Status status = statusOf(static_cast<core::LifeState>(i));
        EXPECT_FALSE(status.word.isEmpty());
        seen.insert({static_cast<int>(status.shape), status.word});
        shapes.insert(static_cast<int>(status.shape));
    }
    EXPECT_EQ(seen.size(), 5U);
    EXPECT_EQ(shapes.size(), 5U) << "colour is never the only difference";
}
