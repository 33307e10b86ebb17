// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/desk.h"
#include "sample-shop/sample_shop.h"
#include "storage/shop.h"
#include "ui/office/office_room.h"
#include "ui/office/owner_topics.h"
#include "ui/shell/main_window.h"
#include "ui/start/start_page.h"

#include <QAccessible>
#include <QApplication>
#include <QFile>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSettings>
#include <QTemporaryDir>
#include <QTest>

#include <gtest/gtest.h>

#include <filesystem>
#include <thread>

namespace milehold::app {
namespace {

constexpr core::Date kToday{std::chrono::year{2031}, std::chrono::May, std::chrono::day{16}};
constexpr int kPatience = 20'000;

class DeskTest : public ::testing::Test {
protected:
    void SetUp() override {
        ASSERT_TRUE(folder_.isValid());
        QSettings::setPath(QSettings::NativeFormat, QSettings::UserScope,
                           folder_.filePath(QStringLiteral("settings")));
    }

    QString path(const QString& name) const { return folder_.filePath(name); }

    /// A shop of the sample on disk, closed again.
    QString sampleShop(int jobs) {
        const QString at = path(QStringLiteral("sample.milehold"));
        sample::SampleOptions options;
        options.jobs = jobs;
        options.endsOn = kToday;
        const auto book = sample::generate(options);
        EXPECT_TRUE(book.has_value());
        auto shop = storage::Shop::create(at.toStdString(), book->settings);
        EXPECT_TRUE(shop.has_value());
        EXPECT_TRUE(sample::write(*book, **shop).has_value());
        const auto lives = (*shop)->lives().records(kToday);
        EXPECT_TRUE(lives.has_value());
        livesOnDisk_ = lives->size();
        EXPECT_TRUE((*shop)->close().has_value());
        return at;
    }

    static bool waitUntilStill(Desk& desk) {
        return QTest::qWaitFor([&] { return desk.window() != nullptr && !desk.isBusy(); }, kPatience);
    }

    QTemporaryDir folder_;
    std::size_t livesOnDisk_ = 0; ///< of the sample that was written last
};

TEST_F(DeskTest, OpensAShopWithItsFourRoomsAndAllItsLives) {
    const QString shop = sampleShop(60);
    Desk desk([] { return kToday; });
    desk.openShop(shop);
    ASSERT_TRUE(waitUntilStill(desk));
    for (const char* room : {"bay", "counter", "office", "shelf"})
        EXPECT_NE(desk.window()->room(QString::fromLatin1(room)), nullptr) << room;
    EXPECT_GT(livesOnDisk_, 40U);
    EXPECT_EQ(desk.session().lives()->size(), livesOnDisk_);
    EXPECT_FALSE(desk.session().shelf()->paths.empty());
}

TEST_F(DeskTest, ShowsEveryLifeOfTheSessionInTheOffice) {
    const QString shop = sampleShop(60);
    Desk desk([] { return kToday; });
    desk.openShop(shop);
    ASSERT_TRUE(waitUntilStill(desk));
    desk.window()->showRoom(QStringLiteral("office"));
    auto* office = qobject_cast<ui::OfficeRoom*>(desk.window()->room(QStringLiteral("office")));
    ASSERT_NE(office, nullptr);
    ASSERT_TRUE(QTest::qWaitFor([&] { return office->view() != nullptr && !desk.isBusy(); }, kPatience));
    EXPECT_FALSE(office->view()->groups.empty());
}

/// The places that take the keyboard by Tab and of which a screen reader would say nothing.
QStringList unnamed(const QWidget& window) {
    QStringList places;
    for (QWidget* widget : window.findChildren<QWidget*>()) {
        // Where another widget takes the keyboard in its place (a spin box for its line), that one is spoken.
        if (!widget->isVisible() || !widget->isEnabled() || !(widget->focusPolicy() & Qt::TabFocus) ||
            widget->focusProxy())
            continue;
        QAccessibleInterface* spoken = QAccessible::queryAccessibleInterface(widget);
        if (spoken == nullptr || spoken->text(QAccessible::Name).trimmed().isEmpty())
            places << QStringLiteral("%1 \"%2\" in %3")
                          .arg(QString::fromLatin1(widget->metaObject()->className()), widget->objectName(),
                               widget->parentWidget()->objectName());
    }
    return places;
}

TEST_F(DeskTest, AScreenReaderHasANameForEveryPlaceThatTakesTheKeyboard) {
    const QString shop = sampleShop(60);
    Desk desk([] { return kToday; });
    desk.openShop(shop);
    ASSERT_TRUE(waitUntilStill(desk));
    const auto rest = [&desk] { return QTest::qWaitFor([&] { return !desk.isBusy(); }, kPatience); };
    const auto look = [&](const QString& where) {
        ASSERT_TRUE(rest());
        QTest::qWait(50);
        const QStringList places = unnamed(*desk.window());
        EXPECT_TRUE(places.isEmpty()) << where.toStdString() << ": " << places.join(u'\n').toStdString();
    };
    look(QStringLiteral("bay"));
    desk.openNewestJob();
    look(QStringLiteral("job"));
    desk.window()->showRoom(QStringLiteral("counter"));
    desk.quoteNewestVehicle();
    look(QStringLiteral("counter"));
    desk.window()->showRoom(QStringLiteral("office"));
    for (int topic = 0; topic < ui::ownerTopicNames().size(); ++topic) {
        desk.showOfficeTopic(static_cast<ui::OwnerTopic>(topic));
        look(ui::ownerTopicNames()[topic]);
    }
    desk.window()->showRoom(QStringLiteral("shelf"));
    look(QStringLiteral("shelf"));
}

TEST_F(DeskTest, StaysOnTheStartPageWithASentenceWhenTheFolderIsNoShop) {
    ASSERT_TRUE(std::filesystem::create_directory(path(QStringLiteral("empty.milehold")).toStdString()));
    Desk desk([] { return kToday; });
    desk.openShop(path(QStringLiteral("empty.milehold")));
    ASSERT_TRUE(QTest::qWaitFor([&] { return desk.startPage() != nullptr && desk.startPage()->isVisible(); },
                                kPatience));
    auto* trouble = desk.startPage()->findChild<QLabel*>(QStringLiteral("trouble"));
    ASSERT_NE(trouble, nullptr);
    EXPECT_TRUE(trouble->isVisibleTo(desk.startPage()));
    EXPECT_FALSE(trouble->text().isEmpty());
    EXPECT_EQ(desk.window(), nullptr);
}

TEST_F(DeskTest, StartsANewShopFromItsNameByTheKeyboardAlone) {
    Desk desk([] { return kToday; });
    desk.showStart();
    auto* page = desk.startPage();
    ASSERT_NE(page, nullptr);
    page->setHomePicked(folder_.path());
    auto* name = page->findChild<QLineEdit*>(QStringLiteral("name"));
    ASSERT_NE(name, nullptr);
    name->setFocus();
    QTest::keyClicks(name, QStringLiteral("Alder Row Timing"));
    QTest::keyClick(name, Qt::Key_Return);
    ASSERT_TRUE(waitUntilStill(desk));
    EXPECT_EQ(desk.session().settings().name, "Alder Row Timing");
    EXPECT_TRUE(QFile::exists(path(QStringLiteral("alder-row-timing.milehold/store/shop.db"))));
}

TEST_F(DeskTest, AsksForANameBeforeItStartsAShop) {
    Desk desk([] { return kToday; });
    desk.showStart();
    bool asked = false;
    QObject::connect(desk.startPage(), &ui::StartPage::createWanted, &desk, [&] { asked = true; });
    QTest::mouseClick(desk.startPage()->findChild<QPushButton*>(QStringLiteral("createShop")),
                      Qt::LeftButton);
    EXPECT_FALSE(asked);
}

TEST_F(DeskTest, BacksUpAndLetsGoOfTheShopWhenTheWindowCloses) {
    const QString shop = sampleShop(20);
    {
        Desk desk([] { return kToday; });
        desk.openShop(shop);
        ASSERT_TRUE(waitUntilStill(desk));
        desk.window()->close();
        ASSERT_TRUE(QTest::qWaitFor([&] { return !desk.window()->isVisible(); }, kPatience));
    }
    EXPECT_FALSE(storage::Shop::holderOf(shop.toStdString()).has_value());
    const auto backups = storage::listBackups(shop.toStdString());
    ASSERT_TRUE(backups.has_value());
    EXPECT_FALSE(backups->empty());
}

TEST(FolderName, KeepsLettersAndDigitsOfAnyScript) {
    EXPECT_EQ(ui::folderNameFor(QStringLiteral("  Müller & Söhne / Timing ")),
              QStringLiteral("müller-söhne-timing.milehold"));
    EXPECT_EQ(ui::folderNameFor(QStringLiteral("../..")), QStringLiteral("shop.milehold"));
}

} // namespace
} // namespace milehold::app
