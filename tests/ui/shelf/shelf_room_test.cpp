// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/picture.h"
#include "tests/ui/shelf/shelf_fixture.h"
#include "ui/shelf/detail_pane.h"
#include "ui/shelf/record_form.h"
#include "ui/shelf/shelf_index.h"
#include "ui/shelf/shelf_room.h"
#include "ui/shelf/shelf_table_model.h"
#include "ui/widgets/record_table.h"

#include <QAbstractItemModelTester>
#include <QLineEdit>
#include <QPushButton>
#include <QTest>

#include <gtest/gtest.h>

#include <memory>

namespace milehold::tests {
namespace {

using namespace ui;

class ShelfRoomTest : public testing::Test {
protected:
    void SetUp() override {
        room.resize(1180, 720);
        QObject::connect(&room, &ShelfRoom::saveWanted,
                         [this](const ShelfRecord& record) { saves.push_back(record); });
        QObject::connect(&room, &ShelfRoom::removeWanted,
                         [this](const ShelfRecord& record) { removes.push_back(record); });
        room.setContents(all);
        room.show();
        room.activateWindow();
        EXPECT_TRUE(QTest::qWaitForWindowActive(&room));
    }

    RecordTable* list() { return room.findChild<RecordTable*>(QStringLiteral("list")); }
    DetailPane* detail() { return room.findChild<DetailPane*>(); }
    QLineEdit* field(const char* name) {
        return detail()->form()->findChild<QLineEdit*>(QString::fromLatin1(name));
    }
    void keys(Qt::Key key, Qt::KeyboardModifiers modifiers = {}) {
        QTest::keyClick(room.focusWidget() != nullptr ? room.focusWidget() : &room, key, modifiers);
    }

    ShelfContents all = smallShelf();
    ShelfRoom room;
    std::vector<ShelfRecord> saves;
    std::vector<ShelfRecord> removes;
};

TEST_F(ShelfRoomTest, ListsWhatWantsCheckingLongestOverdueFirst) {
    room.showSection(ShelfSection::WantsChecking);
    ASSERT_EQ(list()->records()->rowCount(), 2);
    EXPECT_EQ(list()->records()->index(0, 0).data().toString(),
              QStringLiteral("All phasers, newest revision"));
    EXPECT_EQ(list()->records()->index(1, 0).data().toString(), QStringLiteral("LP-4410 B"));
}

TEST_F(ShelfRoomTest, RenewsAFactWithOneKey) {
    room.showSection(ShelfSection::WantsChecking);
    list()->setFocus();
    keys(Qt::Key_Space);
    ASSERT_EQ(saves.size(), 1U);
    const auto path = std::get<core::RepairPath>(saves[0]);
    EXPECT_EQ(path.id.uuid, uuid(31));
    EXPECT_EQ(path.freshness.checkedOn, all.today);
    EXPECT_EQ(path.freshness.checkAgainBy, core::addDays(all.today, 59)); // as long as from February to April
    EXPECT_EQ(path.revision, 5);
    // Once it is stored it leaves the list, and the next one is shown.
    all.shelf.paths[0] = path;
    room.setContents(all);
    room.showSaved(uuid(31));
    EXPECT_EQ(list()->records()->rowCount(), 1);
    EXPECT_EQ(idOf(detail()->record()), uuid(12));
}

TEST_F(ShelfRoomTest, AddsAPartNumberByTheKeyboardAlone) {
    room.showSection(ShelfSection::Parts);
    list()->setFocus();
    keys(Qt::Key_N, Qt::ControlModifier);
    EXPECT_EQ(room.focusWidget()->objectName(), QStringLiteral("number"));
    QTest::keyClicks(room.focusWidget(), QStringLiteral("CS-630"));
    EXPECT_TRUE(room.hasUnsaved());
    keys(Qt::Key_S, Qt::ControlModifier);
    ASSERT_EQ(saves.size(), 1U);
    const auto part = std::get<core::PartNumber>(saves[0]);
    EXPECT_EQ(part.number, "CS-630");
    EXPECT_EQ(part.revision, 0);
    EXPECT_FALSE(part.id.isNull());
    core::PartNumber stored = part;
    stored.revision = 1;
    all.shelf.parts.push_back(stored);
    room.setContents(all);
    room.showSaved(part.id.uuid);
    EXPECT_FALSE(room.hasUnsaved());
    EXPECT_EQ(idOf(detail()->record()), part.id.uuid);
    EXPECT_EQ(revisionOf(detail()->record()), 1);
}

TEST_F(ShelfRoomTest, SavesNothingThatBreaksARuleAndGoesToTheField) {
    room.openRecord(ShelfSection::Parts, uuid(12));
    field("number")->setFocus();
    field("number")->selectAll();
    keys(Qt::Key_Backspace);
    field("supplier")->setFocus();
    keys(Qt::Key_S, Qt::ControlModifier);
    EXPECT_TRUE(saves.empty());
    EXPECT_EQ(room.focusWidget(), field("number"));
}

TEST_F(ShelfRoomTest, KeepsWhatWasTypedWhileSomethingElseIsLookedAt) {
    room.openRecord(ShelfSection::Parts, uuid(12));
    QTest::keyClicks(field("supplier"), QStringLiteral(" Ltd"));
    room.openRecord(ShelfSection::Engines, uuid(1));
    all.staff.pop_back(); // somebody else saved something meanwhile
    room.setContents(all);
    room.openRecord(ShelfSection::Parts, uuid(12));
    EXPECT_EQ(field("supplier")->text(), QStringLiteral("Lowick Drive Parts Ltd"));
    EXPECT_TRUE(detail()->isEdited());
    detail()->takeBack();
    EXPECT_FALSE(room.hasUnsaved());
    EXPECT_EQ(field("supplier")->text(), QStringLiteral("Lowick Drive Parts"));
}

TEST_F(ShelfRoomTest, SaysWhyASaveFailedAndKeepsWhatWasTyped) {
    room.openRecord(ShelfSection::Parts, uuid(12));
    QTest::keyClicks(field("supplier"), QStringLiteral("!"));
    detail()->save();
    ASSERT_EQ(saves.size(), 1U);
    room.showFailure(uuid(12), QStringLiteral("Somebody else changed it meanwhile."));
    EXPECT_TRUE(room.hasUnsaved());
    EXPECT_EQ(field("supplier")->text(), QStringLiteral("Lowick Drive Parts!"));
    detail()->save(); // and may be tried again
    EXPECT_EQ(saves.size(), 2U);
}

TEST_F(ShelfRoomTest, OpensTheRevisionThatSupersedes) {
    room.openRecord(ShelfSection::Parts, uuid(11));
    emit detail()->form()->recordWanted(ShelfSection::Parts, uuid(12));
    EXPECT_EQ(idOf(detail()->record()), uuid(12));
    EXPECT_EQ(list()->currentRecord(), 1);
}

TEST_F(ShelfRoomTest, RemovesByTheDeleteKeyAndDropsANewOneWithoutAsking) {
    room.openRecord(ShelfSection::Parts, uuid(13));
    list()->setFocus();
    keys(Qt::Key_Delete);
    ASSERT_EQ(removes.size(), 1U);
    EXPECT_EQ(idOf(removes[0]), uuid(13));
    room.showFailure(uuid(13), QStringLiteral("A repair path names it."));
    keys(Qt::Key_N, Qt::ControlModifier);
    EXPECT_EQ(list()->records()->rowCount(), 4);
    keys(Qt::Key_Escape);
    keys(Qt::Key_Delete);
    EXPECT_EQ(list()->records()->rowCount(), 3);
    EXPECT_EQ(removes.size(), 1U);
    EXPECT_FALSE(room.hasUnsaved());
}

TEST_F(ShelfRoomTest, WritesANoteOnWhatIsShown) {
    room.openRecord(ShelfSection::Engines, uuid(1));
    emit detail()->noteWanted();
    EXPECT_EQ(room.section(), ShelfSection::Notes);
    const auto note = std::get<core::ShelfNote>(detail()->record());
    EXPECT_EQ(note.subject, core::ShelfSubject::EngineFamily);
    EXPECT_EQ(note.subjectId, uuid(1));
    EXPECT_EQ(note.freshness.checkedOn, all.today);
}

TEST_F(ShelfRoomTest, GoesFromDrawerToListToFormAndBackByKeys) {
    auto* index = room.findChild<ShelfIndex*>();
    index->setFocus();
    keys(Qt::Key_Home);
    EXPECT_EQ(room.section(), ShelfSection::WantsChecking);
    keys(Qt::Key_Down);
    keys(Qt::Key_Down);
    EXPECT_EQ(room.section(), ShelfSection::Paths);
    list()->setFocus();
    keys(Qt::Key_Return);
    EXPECT_EQ(room.focusWidget()->objectName(), QStringLiteral("name"));
    keys(Qt::Key_Escape);
    EXPECT_EQ(room.focusWidget(), list());
}

TEST_F(ShelfRoomTest, FiltersTheListByWordsFromTheKeyboard) {
    room.showSection(ShelfSection::Parts);
    list()->setFocus();
    keys(Qt::Key_F, Qt::ControlModifier);
    ASSERT_EQ(room.focusWidget()->objectName(), QStringLiteral("filter"));
    QTest::keyClicks(room.focusWidget(), QStringLiteral("VC"));
    EXPECT_EQ(list()->model()->rowCount(), 1);
}

TEST_F(ShelfRoomTest, EditsTheShopsOwnSettings) {
    room.showSection(ShelfSection::Shop);
    QTest::keyClicks(field("name"), QStringLiteral(" II"));
    detail()->save();
    ASSERT_EQ(saves.size(), 1U);
    EXPECT_EQ(std::get<core::ShopSettings>(saves[0]).name, "Hollow Creek Timing II");
}

TEST(ShelfTableModel, IsAModelThatQtsOwnTesterAccepts) {
    const ShelfContents all = smallShelf();
    ShelfTableModel model;
    const QAbstractItemModelTester tester(&model, QAbstractItemModelTester::FailureReportingMode::Fatal);
    for (int section = 0; section < kShelfSections; ++section)
        model.setTable(shelfTable(static_cast<ShelfSection>(section), all, {}));
    EXPECT_EQ(model.rowCount(), 0); // the shop itself has no list
}

TEST(ShelfPictures, AreKeptForEyes) {
    for (const auto& [section, name] :
         {std::pair{ShelfSection::WantsChecking, "checking"}, std::pair{ShelfSection::Engines, "engines"},
          std::pair{ShelfSection::Paths, "paths"}, std::pair{ShelfSection::Parts, "parts"},
          std::pair{ShelfSection::Shop, "shop"}}) {
        ShelfRoom room;
        room.setContents(smallShelf());
        room.showSection(section);
        EXPECT_TRUE(
            keepPictures(room, QStringLiteral("shelf-") + QString::fromLatin1(name), QSize(1180, 720)));
    }
    ShelfRoom empty;
    empty.setContents({});
    EXPECT_TRUE(keepPicture(empty, QStringLiteral("shelf-empty"), QSize(1180, 720)));
    ShelfContents wordy = smallShelf();
    wordy.shelf.paths[0].name =
        "Alle Nockenwellenversteller einschließlich Steuerkettensatz, neueste Ausführung";
    wordy.shelf.families[0].name = "Sechszylinder-Sonderausführung mit zwei Bänken, dreieinhalb Liter";
    ShelfRoom longWords;
    longWords.setContents(wordy);
    longWords.showSection(ShelfSection::Paths);
    EXPECT_TRUE(keepPicture(longWords, QStringLiteral("shelf-long-words"), QSize(1180, 720)));
}

} // namespace
} // namespace milehold::tests
