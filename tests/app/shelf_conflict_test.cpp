// SPDX-License-Identifier: GPL-3.0-or-later
// Two stations change one record of the Shelf: both versions are shown, and nothing typed is lost.
#include "storage/shop.h"
#include "tests/app/open_shelf.h"
#include "tests/support/picture.h"
#include "tests/support/postgresql_server.h"
#include "ui/theme/theme.h"
#include "ui/widgets/conflict_dialog.h"

#include <QApplication>
#include <QLabel>
#include <QPushButton>
#include <QTableWidget>
#include <QTemporaryDir>

namespace milehold::tests {
namespace {

using ui::ShelfSection;

class ShelfConflict : public ::testing::TestWithParam<bool> {
protected:
    void SetUp() override {
        qputenv("XDG_DATA_HOME", folder.filePath(QStringLiteral("data")).toUtf8());
        where = GetParam() ? test::PostgresqlServer::shared().makeDatabase()
                           : folder.filePath(QStringLiteral("hollow-creek.milehold")).toStdString();
        auto made = makeShelfShop(where);
        ASSERT_TRUE(made.has_value()) << made.error().detail;
        ASSERT_TRUE((*made)->close().has_value());
        shelf = std::make_unique<OpenShelf>(where);
        if (GetParam())
            other = storage::Shop::open(where).value();
        before = shelf->session.shelf()->parts.front();
        shelf->room.openRecord(ShelfSection::Parts, before.id.uuid);
        QTest::keyClicks(shelf->field("supplier"), QStringLiteral(", typed here"));
    }
    /// Another station saves; a shop in a folder has one holder, who then stands for both.
    void saveElsewhere(const core::PartNumber& part) {
        const auto save = [part](storage::Shop& shop) {
            const storage::Who me = shop.who();
            shop.setWho({std::nullopt, "bay 7"});
            auto saved = shop.shelf().save(part);
            shop.setWho(me);
            return saved;
        };
        const auto saved = other ? save(*other) : shelf->ask(save);
        ASSERT_TRUE(saved.has_value()) << saved.error().detail;
    }
    core::PartNumber stored() {
        const auto now = shelf->ask([](storage::Shop& shop) { return shop.shelf().load(); });
        return *now->find(before.id);
    }
    ui::ConflictDialog* dialog() {
        ui::ConflictDialog* found = nullptr;
        EXPECT_TRUE(QTest::qWaitFor(
            [&] {
                found = shelf->room.window()->findChild<ui::ConflictDialog*>();
                return found != nullptr && found->isVisible();
            },
            10'000));
        return found;
    }

    QTemporaryDir folder;
    std::string where;
    std::unique_ptr<OpenShelf> shelf;
    std::unique_ptr<storage::Shop> other;
    core::PartNumber before;
};

TEST_P(ShelfConflict, ShowsBothVersionsByWhomAndKeepsMine) {
    core::PartNumber theirs = before;
    theirs.supplier = "Saved at bay 7";
    theirs.whatChanged = "a longer spring";
    saveElsewhere(theirs);
    // The other station's save is heard before anything is saved here: it must not be typed over unseen.
    shelf->refresh();
    EXPECT_EQ(shelf->field("supplier")->text().toStdString(), before.supplier + ", typed here");
    EXPECT_TRUE(keepPicture(shelf->room, QStringLiteral("shelf-moved"), QSize(1180, 720)));
    shelf->detail()->save();
    auto* asked = dialog();
    ASSERT_NE(asked, nullptr);
    const auto heading = asked->findChild<QLabel*>(QStringLiteral("conflictHeading"))->text();
    EXPECT_TRUE(heading.startsWith(QLatin1String("Changed by bay 7 at "))) << heading.toStdString();
    const auto* table = asked->findChild<QTableWidget*>(QStringLiteral("conflictFields"));
    ASSERT_EQ(table->rowCount(), 1) << "what was changed there alone is theirs to keep";
    EXPECT_EQ(table->item(0, 0)->text(), QStringLiteral("Supplier"));
    EXPECT_EQ(table->item(0, 1)->text().toStdString(), before.supplier + ", typed here");
    EXPECT_EQ(table->item(0, 2)->text(), QStringLiteral("Saved at bay 7"));
    EXPECT_EQ(shelf->field("supplier")->text().toStdString(), before.supplier + ", typed here");
    EXPECT_EQ(stored().supplier, "Saved at bay 7") << "nothing happens before a button says so";
    EXPECT_TRUE(keepPictures(*asked, QStringLiteral("shelf-conflict"), asked->size()));
    ui::theme::apply(*qApp, ui::Scheme::Light);
    shelf->said.clear();
    QTest::mouseClick(asked->findChild<QPushButton*>(QStringLiteral("keepMine")), Qt::LeftButton);
    ASSERT_TRUE(QTest::qWaitFor([this] { return !shelf->said.isEmpty(); }, 10'000));
    EXPECT_EQ(stored().supplier, before.supplier + ", typed here");
    EXPECT_EQ(stored().whatChanged, "a longer spring") << "neither edit is lost";
    EXPECT_FALSE(shelf->room.hasUnsaved());
}

TEST_P(ShelfConflict, TakesTheirsAndLetsGoOfWhatWasTyped) {
    core::PartNumber theirs = before;
    theirs.supplier = "Saved at bay 7";
    saveElsewhere(theirs);
    shelf->detail()->save();
    auto* asked = dialog();
    ASSERT_NE(asked, nullptr);
    QTest::mouseClick(asked->findChild<QPushButton*>(QStringLiteral("takeTheirs")), Qt::LeftButton);
    EXPECT_TRUE(QTest::qWaitFor([this] { return !shelf->room.hasUnsaved() && shelf->kept() == 0; }, 10'000));
    shelf->refresh();
    EXPECT_EQ(shelf->field("supplier")->text(), QStringLiteral("Saved at bay 7"));
    EXPECT_EQ(stored().supplier, "Saved at bay 7");
}

TEST_P(ShelfConflict, ClosedWithoutAChoiceLosesNothing) {
    core::PartNumber theirs = before;
    theirs.supplier = "Saved at bay 7";
    saveElsewhere(theirs);
    shelf->detail()->save();
    auto* asked = dialog();
    ASSERT_NE(asked, nullptr);
    QTest::keyClick(asked, Qt::Key_Escape);
    QTest::qWait(700);
    EXPECT_EQ(stored().supplier, "Saved at bay 7");
    EXPECT_EQ(shelf->field("supplier")->text().toStdString(), before.supplier + ", typed here");
    EXPECT_EQ(shelf->kept(), 1U);
}

INSTANTIATE_TEST_SUITE_P(Engines, ShelfConflict, ::testing::Bool(), [](const auto& engine) {
    return std::string(engine.param ? "OnServer" : "InFolder");
});

} // namespace
} // namespace milehold::tests
