// SPDX-License-Identifier: GPL-3.0-or-later
// From the window and the start page: backups listed, restored, looked at, copied; a damaged shop saved as
// far as it can.
#include "app/desktop/desk.h"
#include "app/desktop/file_dialogs.h"
#include "sample-shop/sample_shop.h"
#include "storage/backup_shelf.h"
#include "storage/shop.h"
#include "storage/shop_care.h"
#include "tests/support/picture.h"
#include "ui/backup/backups_dialog.h"
#include "ui/shell/main_window.h"
#include "ui/shell/message_bar.h"
#include "ui/start/start_page.h"

#include <QApplication>
#include <QFileDialog>
#include <QLabel>
#include <QPushButton>
#include <QSettings>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>
#include <QTreeWidget>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <ctime>
#include <fcntl.h>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

namespace milehold::app {
namespace {

namespace fs = std::filesystem;

constexpr core::Date kToday{std::chrono::year{2031}, std::chrono::May, std::chrono::day{16}};
constexpr int kPatience = 20'000;

class DeskBackupsTest : public ::testing::Test {
protected:
    void SetUp() override {
        ASSERT_TRUE(folder_.isValid());
        QSettings::setPath(QSettings::NativeFormat, QSettings::UserScope,
                           folder_.filePath(QStringLiteral("settings")));
        sample::SampleOptions options;
        options.jobs = 20;
        options.endsOn = kToday;
        const auto book = sample::generate(options);
        ASSERT_TRUE(book.has_value());
        auto shop = storage::Shop::create(path(), book->settings);
        ASSERT_TRUE(shop.has_value());
        ASSERT_TRUE(sample::write(*book, **shop).has_value());
        jobs_ = book->jobs.size();
        ASSERT_TRUE((*shop)->close().has_value());
    }

    fs::path path() const { return folder_.filePath(QStringLiteral("Corner.milehold")).toStdString(); }
    fs::path database() const { return path() / "store" / "shop.db"; }

    static bool waitUntilOpen(Desk& desk) {
        return QTest::qWaitFor([&] { return desk.window() != nullptr && !desk.isBusy(); }, kPatience);
    }
    static bool waitForTrouble(Desk& desk) {
        return QTest::qWaitFor(
            [&] { return desk.startPage() != nullptr && !trouble(desk).isEmpty() && !desk.isBusy(); },
            kPatience);
    }
    static QString trouble(Desk& desk) {
        return desk.startPage()->findChild<QLabel*>(QStringLiteral("trouble"))->text();
    }
    static QPushButton* button(QWidget* in, const char* name) {
        return in->findChild<QPushButton*>(QString::fromLatin1(name));
    }
    static void press(QWidget* in, const char* name) {
        auto* wanted = button(in, name);
        ASSERT_NE(wanted, nullptr);
        ASSERT_TRUE(wanted->isEnabled()) << name;
        wanted->click();
    }
    static std::size_t jobsOf(Desk& desk) {
        std::optional<std::size_t> count;
        desk.database().ask(
            &desk, [](storage::Shop& shop) { return shop.jobs().rows({.limit = 10'000}); },
            [&](const core::Result<std::vector<storage::JobRow>>& rows) { count = rows ? rows->size() : 0; });
        EXPECT_TRUE(QTest::qWaitFor([&] { return count.has_value(); }, kPatience));
        return count.value_or(0);
    }
    static void saveSomething(Desk& desk) {
        std::optional<bool> done;
        desk.database().ask(
            &desk,
            [](storage::Shop& shop) -> core::Result<void> {
                auto customer = core::Customer();
                customer.name = "Oskar Lind";
                auto saved = shop.customers().save(customer);
                if (!saved)
                    return core::failureOf(saved);
                return {};
            },
            [&](const core::Result<void>& outcome) { done = outcome.has_value(); });
        EXPECT_TRUE(QTest::qWaitFor([&] { return done.has_value(); }, kPatience));
        EXPECT_TRUE(done.value_or(false));
    }

    QTemporaryDir folder_;
    std::size_t jobs_ = 0;
};

TEST_F(DeskBackupsTest, AreListedInTheWindowAndOneIsRestoredFromThere) {
    const auto made = storage::newestGoodBackup(path());
    ASSERT_TRUE(made.has_value());
    Desk desk([] { return kToday; });
    desk.openShop(QString::fromStdString(path().string()));
    ASSERT_TRUE(waitUntilOpen(desk));
    saveSomething(desk); // something that the backup has not
    emit desk.window()->backupsWanted();
    auto* dialog = desk.window()->findChild<ui::BackupsDialog*>();
    ASSERT_NE(dialog, nullptr);
    auto* list = dialog->findChild<QTreeWidget*>(QStringLiteral("backupList"));
    ASSERT_TRUE(QTest::qWaitFor([&] { return list->topLevelItemCount() == 1; }, kPatience));
    EXPECT_EQ(list->topLevelItem(0)->text(2), QLocale().toString(static_cast<qlonglong>(jobs_)));
    EXPECT_TRUE(tests::keepPictures(*dialog, QStringLiteral("backups"), {860, 560}));
    press(dialog, "restore");
    EXPECT_TRUE(dialog->findChild<QLabel*>(QStringLiteral("restoreQuestion"))->isVisibleTo(dialog));
    EXPECT_TRUE(tests::keepPicture(*dialog, QStringLiteral("backups-question"), {860, 560}));
    auto* before = desk.window();
    press(dialog, "restoreSure");
    ASSERT_TRUE(QTest::qWaitFor(
        [&] { return desk.window() != nullptr && desk.window() != before && !desk.isBusy(); }, kPatience));
    EXPECT_EQ(jobsOf(desk), jobs_);
    // What was replaced is a backup of its own now, and its file lies aside.
    const auto all = storage::listBackups(path());
    ASSERT_TRUE(all.has_value());
    EXPECT_TRUE(std::ranges::any_of(
        *all, [](const auto& one) { return one.reason == storage::BackupReason::BeforeRestore; }));
    EXPECT_TRUE(std::ranges::any_of(fs::directory_iterator(path()), [](const auto& entry) {
        return entry.path().filename().string().starts_with("replaced-");
    }));
}

TEST_F(DeskBackupsTest, AreTestedAndCopiedFromTheWindow) {
    Desk desk([] { return kToday; });
    desk.openShop(QString::fromStdString(path().string()));
    ASSERT_TRUE(waitUntilOpen(desk));
    emit desk.window()->backupsWanted();
    auto* dialog = desk.window()->findChild<ui::BackupsDialog*>();
    auto* list = dialog->findChild<QTreeWidget*>(QStringLiteral("backupList"));
    auto* note = dialog->findChild<QLabel*>(QStringLiteral("backupNote"));
    ASSERT_TRUE(QTest::qWaitFor([&] { return list->topLevelItemCount() > 0; }, kPatience));
    press(dialog, "test");
    ASSERT_TRUE(QTest::qWaitFor([&] { return note->text().contains(QStringLiteral("sound")); }, kPatience));
    EXPECT_TRUE(storage::readCare(path())->testRestore.has_value());
    press(dialog, "backUpNow");
    EXPECT_TRUE(QTest::qWaitFor([&] { return list->topLevelItemCount() == 2; }, kPatience));
}

TEST_F(DeskBackupsTest, ADamagedShopOffersItsNewestGoodBackupAndWhatWouldBeLost) {
    fs::resize_file(database(), fs::file_size(database()) / 2);
    Desk desk([] { return kToday; });
    desk.openShop(QString::fromStdString(path().string()));
    ASSERT_TRUE(waitForTrouble(desk));
    EXPECT_TRUE(trouble(desk).contains(QLocale().toString(static_cast<qlonglong>(jobs_))))
        << trouble(desk).toStdString();
    for (const char* name : {"restoreNewest", "lookAtNewest", "salvage"})
        EXPECT_TRUE(button(desk.startPage(), name)->isVisibleTo(desk.startPage())) << name;
    EXPECT_TRUE(tests::keepPictures(*desk.startPage(), QStringLiteral("start-damaged"), {1040, 640}));
    press(desk.startPage(), "restoreNewest");
    ASSERT_TRUE(waitUntilOpen(desk));
    EXPECT_EQ(jobsOf(desk), jobs_);
}

TEST_F(DeskBackupsTest, ADamagedShopIsSavedAsFarAsItCanBeRead) {
    std::fstream file(database(), std::ios::in | std::ios::out | std::ios::binary);
    file << std::string(100, '\0'); // its header
    file.close();
    Desk desk([] { return kToday; });
    desk.openShop(QString::fromStdString(path().string()));
    ASSERT_TRUE(waitForTrouble(desk));
    EXPECT_TRUE(button(desk.startPage(), "salvage")->isVisibleTo(desk.startPage()));
    press(desk.startPage(), "salvage");
    ASSERT_TRUE(waitUntilOpen(desk));
    EXPECT_GT(desk.window()->messages()->count(), 0);
    EXPECT_EQ(jobsOf(desk), jobs_);
}

TEST_F(DeskBackupsTest, AShopThatSomebodyHoldsOffersItsLatestBackupToLookAt) {
    auto holder = storage::Shop::open(path());
    ASSERT_TRUE(holder.has_value());
    Desk desk([] { return kToday; });
    desk.openShop(QString::fromStdString(path().string()));
    ASSERT_TRUE(waitForTrouble(desk));
    EXPECT_TRUE(trouble(desk).contains(QString::number(::getpid()))) << trouble(desk).toStdString();
    EXPECT_FALSE(button(desk.startPage(), "restoreNewest")->isVisibleTo(desk.startPage()));
    EXPECT_FALSE(button(desk.startPage(), "salvage")->isVisibleTo(desk.startPage()));
    EXPECT_TRUE(tests::keepPicture(*desk.startPage(), QStringLiteral("start-held"), {1040, 640}));
    press(desk.startPage(), "lookAtNewest");
    ASSERT_TRUE(waitUntilOpen(desk));
    EXPECT_EQ(jobsOf(desk), jobs_);
    EXPECT_GT(desk.window()->messages()->count(), 0);
    EXPECT_TRUE(tests::keepPicture(*desk.window(), QStringLiteral("window-browsing"), {1280, 800}));
}

/// Whether another process would find the database file locked (fcntl(2): locks belong to a process).
bool isLockedForOthers(const fs::path& file) {
    const pid_t pid = ::fork();
    if (pid == 0) {
        const int opened = ::open(file.c_str(), O_RDWR | O_CLOEXEC);
        // The bytes that SQLite locks: sqlite.org/src, os.h, PENDING_BYTE and what follows it.
        struct flock wanted {};
        wanted.l_type = F_WRLCK;
        wanted.l_whence = SEEK_SET;
        wanted.l_start = 0x40000000;
        wanted.l_len = 512;
        const bool asked = opened >= 0 && ::fcntl(opened, F_GETLK, &wanted) == 0;
        ::_exit(asked && wanted.l_type != F_UNLCK ? 1 : 0);
    }
    int status = 0;
    ::waitpid(pid, &status, 0);
    return WIFEXITED(status) && WEXITSTATUS(status) == 1;
}

TEST_F(DeskBackupsTest, NoDialogLetsGoOfTheDatabasesLock) {
    Desk desk([] { return kToday; });
    desk.openShop(QString::fromStdString(path().string()));
    ASSERT_TRUE(waitUntilOpen(desk));
    ASSERT_TRUE(isLockedForOthers(database()));
    int dialogs = 0;
    const auto closeSoon = [&] {
        QTimer::singleShot(150, &desk, [&] {
            for (QWidget* top : QApplication::topLevelWidgets()) {
                if (auto* dialog = qobject_cast<QFileDialog*>(top)) {
                    ++dialogs;
                    dialog->reject();
                }
            }
        });
    };
    const QString store = QString::fromStdString((path() / "store").string());
    closeSoon();
    askForFolder(desk.window(), QStringLiteral("x"), store);
    EXPECT_TRUE(isLockedForOthers(database())) << "a folder dialog in the store";
    closeSoon();
    askWhereToSave(desk.window(), QStringLiteral("x"), store + QStringLiteral("/export.csv"),
                   QStringLiteral("*"));
    EXPECT_TRUE(isLockedForOthers(database())) << "a save dialog in the store";
    EXPECT_EQ(dialogs, 2);
    emit desk.window()->backupsWanted();
    auto* dialog = desk.window()->findChild<ui::BackupsDialog*>();
    ASSERT_TRUE(QTest::qWaitFor([&] { return !desk.isBusy(); }, kPatience));
    press(dialog, "backUpNow");
    ASSERT_TRUE(QTest::qWaitFor([&] { return !desk.isBusy(); }, kPatience));
    EXPECT_TRUE(isLockedForOthers(database())) << "a backup";
    // What this guards against, so that the check itself is known to see it: any closing of the file by this
    // process.
    ::close(::open(database().c_str(), O_RDONLY | O_CLOEXEC));
    EXPECT_FALSE(isLockedForOthers(database()));
}

TEST_F(DeskBackupsTest, AnOpenShopSweepsOnceADayTheFilesThatNobodyNames) {
    const fs::path folder = path() / "store" / "attachments" / "ab";
    fs::create_directories(folder);
    const fs::path orphan = folder / ("ab" + std::string(62, '0'));
    const fs::path young = folder / ("ab" + std::string(62, '1'));
    const auto age = [](const fs::path& file, std::time_t seconds) {
        std::ofstream(file) << "left behind";
        const timespec times[2] = {{seconds, 0}, {seconds, 0}};
        ASSERT_EQ(::utimensat(AT_FDCWD, file.c_str(), times, 0), 0);
    };
    age(orphan, std::time(nullptr) - 31 * 24 * 3600);
    age(young, std::time(nullptr) - 29 * 24 * 3600);
    {
        Desk desk([] { return kToday; });
        desk.openShop(QString::fromStdString(path().string()));
        ASSERT_TRUE(waitUntilOpen(desk));
        EXPECT_TRUE(QTest::qWaitFor([&] { return !fs::exists(orphan); }, kPatience));
        EXPECT_TRUE(QTest::qWaitFor([&] { return storage::readCare(path())->swept.has_value(); }, kPatience));
        EXPECT_TRUE(fs::exists(young));
    }
    // Opened again on the same day it leaves the disk alone.
    age(orphan, std::time(nullptr) - 31 * 24 * 3600);
    Desk desk([] { return kToday; });
    desk.openShop(QString::fromStdString(path().string()));
    ASSERT_TRUE(waitUntilOpen(desk));
    EXPECT_TRUE(QTest::qWaitFor([&] { return !desk.isBusy(); }, kPatience));
    EXPECT_TRUE(fs::exists(orphan));
}

} // namespace
} // namespace milehold::app
