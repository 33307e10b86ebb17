// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/files/shop_folder.h"
#include "storage/shop.h"

#include <QCoreApplication>
#include <QProcess>
#include <QTemporaryDir>
#include <QTest>

#include <gtest/gtest.h>

#include <filesystem>

namespace milehold::app {
namespace {

constexpr int kPatience = 20'000;

// A system that shuts down sends SIGTERM (POSIX): the shop is to be closed as by its window, not left as
// after a crash.
TEST(EndSignals, CloseTheShopProperlyWhenTheSystemShutsDown) {
    const QTemporaryDir home;
    ASSERT_TRUE(home.isValid());
    const std::filesystem::path folder =
        std::filesystem::path(home.path().toStdString()) / "closing.milehold";
    core::ShopSettings settings;
    settings.name = "Closing";
    {
        auto shop = storage::Shop::create(folder, settings);
        ASSERT_TRUE(shop.has_value());
        ASSERT_TRUE((*shop)->close().has_value());
    }
    const storage::ShopFolder files{folder};

    QProcess program;
    QProcessEnvironment surroundings = QProcessEnvironment::systemEnvironment();
    surroundings.insert(QStringLiteral("QT_QPA_PLATFORM"), QStringLiteral("offscreen"));
    surroundings.insert(QStringLiteral("HOME"), home.path());
    surroundings.insert(QStringLiteral("XDG_CONFIG_HOME"), home.path());
    program.setProcessEnvironment(surroundings);
    program.start(QCoreApplication::applicationDirPath() + QStringLiteral("/milehold"),
                  {QString::fromStdString(folder.string())});
    ASSERT_TRUE(program.waitForStarted(kPatience)) << program.errorString().toStdString();
    ASSERT_TRUE(QTest::qWaitFor([&] { return std::filesystem::exists(files.openMark()); }, kPatience));
    QTest::qWait(500); // its rooms are being built: a shutdown may come at any moment after this one

    program.terminate();
    ASSERT_TRUE(program.waitForFinished(kPatience)) << "the program did not end";
    EXPECT_EQ(program.exitStatus(), QProcess::NormalExit);
    EXPECT_EQ(program.exitCode(), 0);
    EXPECT_FALSE(std::filesystem::exists(files.openMark())) << "left as after a crash";
    const auto backups = storage::listBackups(folder);
    ASSERT_TRUE(backups.has_value());
    EXPECT_FALSE(backups->empty());
}

} // namespace
} // namespace milehold::app
