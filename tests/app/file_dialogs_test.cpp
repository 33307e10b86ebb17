// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/file_dialogs.h"

#include <QApplication>
#include <QFileDialog>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>

#include <gtest/gtest.h>

namespace milehold::app {
namespace {

/// Answers the dialog that comes up next.
void answer(bool accept) {
    auto* timer = new QTimer(qApp);
    timer->setInterval(20);
    QObject::connect(timer, &QTimer::timeout, timer, [timer, accept] {
        QDialog* dialog = qobject_cast<QFileDialog*>(QApplication::activeModalWidget());
        if (!dialog)
            return;
        timer->deleteLater();
        timer->stop();
        QTimer::singleShot(100, dialog, [dialog, accept] { dialog->done(accept ? 1 : 0); });
    });
    timer->start();
}

TEST(FileDialogs, GiveAFolderAndCloseWithoutHarm) {
    const QTemporaryDir folder;
    ASSERT_TRUE(folder.isValid());
    for (int round = 0; round < 3; ++round) {
        answer(true);
        EXPECT_EQ(askForFolder(nullptr, QStringLiteral("Which"), folder.path()), folder.path());
        answer(false);
        EXPECT_EQ(askForFolder(nullptr, QStringLiteral("Which"), folder.path()), QString());
    }
}

TEST(FileDialogs, AskWhereToSaveAndCloseWithoutHarm) {
    const QTemporaryDir folder;
    ASSERT_TRUE(folder.isValid());
    answer(false);
    EXPECT_EQ(askWhereToSave(nullptr, QStringLiteral("Where"), folder.filePath(QStringLiteral("a.csv")),
                             QStringLiteral("Tables (*.csv)")),
              QString());
}

} // namespace
} // namespace milehold::app
