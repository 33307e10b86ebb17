// SPDX-License-Identifier: GPL-3.0-or-later
// The Shelf joined with a real shop on disk.
#include "app/desktop/save_history.h"
#include "app/desktop/shelf_controller.h"
#include "sample-shop/sample_shop.h"
#include "storage/shop.h"
#include "ui/shelf/detail_pane.h"
#include "ui/shelf/record_form.h"

#include <QLineEdit>
#include <QTemporaryDir>
#include <QTest>

#include <gtest/gtest.h>

#include <algorithm>

namespace milehold::app {
namespace {

using ui::ShelfRecord;
using ui::ShelfSection;

class ShelfControllerTest : public testing::Test {
protected:
    void SetUp() override {
        sample = *sample::generate({.jobs = 5});
        database.open(
            [folder = folder.path().toStdString() + "/hollow-creek.milehold",
             book = sample]() -> core::Result<std::unique_ptr<storage::Shop>> {
                auto shop = storage::Shop::create(folder, book.settings);
                if (!shop)
                    return shop;
                if (auto written = sample::write(book, **shop); !written)
                    return core::failureOf(written);
                return shop;
            },
            &database, [this](core::Result<void> outcome) { opened = outcome.has_value(); });
        ASSERT_TRUE(QTest::qWaitFor([this] { return opened; }, 30'000));
        refresh();
        controller = std::make_unique<ShelfController>(room, database, session);
        QObject::connect(controller.get(), &ShelfController::said, &room,
                         [this](const QString& what) { said = what; });
        room.resize(1180, 720);
        room.show();
    }

    /// Reads the shop into the session, as the program does when it opens one.
    void refresh() {
        bool done = false;
        database.ask(
            &database, [](storage::Shop& shop) { return readSnapshot(shop); },
            [&](core::Result<ShelfSnapshot> snapshot) {
                ASSERT_TRUE(snapshot.has_value());
                session.setSettings(snapshot->settings);
                session.setShelf(std::move(snapshot->shelf));
                session.setStaff(std::move(snapshot->staff));
                done = true;
            });
        ASSERT_TRUE(QTest::qWaitFor([&] { return done; }, 10'000));
    }

    bool waitForSaying() {
        return QTest::qWaitFor([this] { return !said.isEmpty(); }, 10'000);
    }
    bool undo() {
        bool undone = false;
        const auto link = QObject::connect(&history, &SaveHistory::undone, &room, [&] { undone = true; });
        history.undo();
        const bool seen = QTest::qWaitFor([&] { return undone; }, 10'000);
        QObject::disconnect(link);
        refresh();
        return seen;
    }
    ui::DetailPane* detail() { return room.findChild<ui::DetailPane*>(); }
    QLineEdit* field(const char* name) {
        return detail()->form()->findChild<QLineEdit*>(QString::fromLatin1(name));
    }
    const core::PartNumber& newestPart() { return session.shelf()->parts.front(); }

    QTemporaryDir folder;
    sample::SampleShop sample;
    bool opened = false;
    QString said;
    Session session{[] {
        return core::Date{std::chrono::year{2031}, std::chrono::May, std::chrono::day{16}};
    }};
    Database database;
    SaveHistory history{database};
    ui::ShelfRoom room;
    std::unique_ptr<ShelfController> controller;
};

TEST_F(ShelfControllerTest, SavesAnEditAndHandsItToTheSession) {
    const core::PartNumber before = newestPart();
    room.openRecord(ShelfSection::Parts, before.id.uuid);
    field("supplier")->selectAll();
    QTest::keyClicks(field("supplier"), QStringLiteral("Nessary Works"));
    detail()->save();
    ASSERT_TRUE(waitForSaying());
    const core::PartNumber* after = session.shelf()->find(before.id);
    ASSERT_NE(after, nullptr);
    EXPECT_EQ(after->supplier, "Nessary Works");
    EXPECT_GT(after->revision, before.revision);
    EXPECT_FALSE(room.hasUnsaved());
    // And back.
    ASSERT_TRUE(QTest::qWaitFor([this] { return history.canUndo(); }, 20'000));
    ASSERT_TRUE(undo());
    EXPECT_EQ(session.shelf()->find(before.id)->supplier, before.supplier);
    EXPECT_EQ(field("supplier")->text().toStdString(), before.supplier);
}

TEST_F(ShelfControllerTest, AddsAPartThatUndoTakesAwayAndRedoBringsBack) {
    const std::size_t parts = session.shelf()->parts.size();
    room.showSection(ShelfSection::Parts);
    room.activateWindow();
    ASSERT_TRUE(QTest::qWaitForWindowActive(&room));
    QTest::keyClick(&room, Qt::Key_N, Qt::ControlModifier);
    QTest::keyClicks(field("number"), QStringLiteral("NW-9001"));
    QTest::keyClick(&room, Qt::Key_S, Qt::ControlModifier);
    ASSERT_TRUE(waitForSaying());
    EXPECT_EQ(said, QStringLiteral("NW-9001 saved"));
    EXPECT_EQ(session.shelf()->parts.size(), parts + 1);
    ASSERT_TRUE(undo());
    EXPECT_EQ(session.shelf()->parts.size(), parts);
    bool redone = false;
    QObject::connect(&history, &SaveHistory::redone, &room, [&] { redone = true; });
    history.redo();
    ASSERT_TRUE(QTest::qWaitFor([&] { return redone; }, 10'000));
    refresh();
    EXPECT_EQ(session.shelf()->parts.size(), parts + 1);
}

TEST_F(ShelfControllerTest, RefusesToRemoveAPartThatAPathFitsAndSaysSo) {
    const core::PartNumberId used = session.shelf()->paths.back().parts.front().part;
    room.openRecord(ShelfSection::Parts, used.uuid);
    emit room.removeWanted(*session.shelf()->find(used));
    EXPECT_FALSE(QTest::qWaitFor([this] { return !said.isEmpty(); }, 500));
    EXPECT_NE(session.shelf()->find(used), nullptr);
    EXPECT_FALSE(history.canUndo());
}

TEST_F(ShelfControllerTest, RefusesAnEditOfWhatSomebodyElseChangedMeanwhile) {
    const core::PartNumber before = newestPart();
    room.openRecord(ShelfSection::Parts, before.id.uuid);
    bool changed = false;
    core::PartNumber theirs = before;
    theirs.supplier = "Somebody else";
    database.ask(
        &database, [theirs](storage::Shop& shop) { return shop.shelf().save(theirs); },
        [&](core::Result<core::PartNumber> saved) { changed = saved.has_value(); });
    ASSERT_TRUE(QTest::qWaitFor([&] { return changed; }, 10'000));
    QTest::keyClicks(field("supplier"), QStringLiteral("!"));
    detail()->save();
    EXPECT_FALSE(QTest::qWaitFor([this] { return !said.isEmpty(); }, 500));
    EXPECT_TRUE(room.hasUnsaved()); // what was typed is still there
    refresh();
    EXPECT_EQ(session.shelf()->find(before.id)->supplier, "Somebody else");
}

TEST_F(ShelfControllerTest, DoesNotUndoOverWhatWasChangedSince) {
    const core::PartNumber before = newestPart();
    room.openRecord(ShelfSection::Parts, before.id.uuid);
    QTest::keyClicks(field("supplier"), QStringLiteral("!"));
    detail()->save();
    ASSERT_TRUE(waitForSaying());
    bool changed = false;
    core::PartNumber theirs = *session.shelf()->find(before.id);
    theirs.supplier = "Somebody else";
    database.ask(
        &database,
        [theirs](storage::Shop& shop) {
            const storage::Who me = shop.who();
            shop.setWho({std::nullopt, "elsewhere"});
            auto saved = shop.shelf().save(theirs);
            shop.setWho(me);
            return saved;
        },
        [&](core::Result<core::PartNumber> saved) { changed = saved.has_value(); });
    ASSERT_TRUE(QTest::qWaitFor([&] { return changed; }, 10'000));
    QString refused;
    QObject::connect(&history, &SaveHistory::refused, &room,
                     [&](const QString& sentence) { refused = sentence; });
    history.undo();
    ASSERT_TRUE(QTest::qWaitFor([&] { return !refused.isEmpty(); }, 10'000));
    EXPECT_TRUE(refused.contains(QStringLiteral("changed since, by"))) << refused.toStdString();
    refresh();
    EXPECT_EQ(session.shelf()->find(before.id)->supplier, "Somebody else");
}

TEST_F(ShelfControllerTest, SavesPeopleAndTheShopsSettings) {
    const core::Staff person = session.staff().front();
    room.openRecord(ShelfSection::People, person.id.uuid);
    QTest::keyClicks(field("name"), QStringLiteral(" Jr"));
    detail()->save();
    ASSERT_TRUE(waitForSaying());
    EXPECT_TRUE(std::any_of(session.staff().begin(), session.staff().end(),
                            [&](const core::Staff& row) { return row.name == person.name + " Jr"; }));
    said.clear();
    room.showSection(ShelfSection::Shop);
    field("name")->selectAll();
    QTest::keyClicks(field("name"), QStringLiteral("Hollow Creek East"));
    detail()->save();
    ASSERT_TRUE(waitForSaying());
    EXPECT_EQ(session.settings().name, "Hollow Creek East");
}

} // namespace
} // namespace milehold::app
