// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/file_dialogs.h"

#include <QApplication>
#include <QFile>
#include <QFileDialog>
#include <QLineEdit>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>

#include <gtest/gtest.h>

namespace milehold::app {
namespace {

/// Answers the dialog that comes up next, with this name typed where it is not blank.
void answer(bool accept, const QString& typed = {}) {
    auto* timer = new QTimer(qApp);
    timer->setInterval(20);
    QObject::connect(timer, &QTimer::timeout, timer, [timer, accept, typed] {
        QDialog* dialog = qobject_cast<QFileDialog*>(QApplication::activeModalWidget());
        if (!dialog)
            return;
        if (!typed.isEmpty())
            dialog->findChild<QLineEdit*>()->setText(typed);
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

TEST(FileDialogs, GiveTheEndingThatTheKindOfFileHas) {
    const QTemporaryDir folder;
    const auto ask = [&] {
        return askWhereToSave(nullptr, QStringLiteral("Where"), folder.filePath(QStringLiteral("a.csv")));
    };
    for (const auto& [typed, file] :
         {std::pair{"jobs", "jobs.csv"}, {"jobs.csv", "jobs.csv"}, {"jobs 31.12", "jobs 31.12.csv"}}) {
        answer(true, QString::fromLatin1(typed));
        EXPECT_EQ(ask(), folder.filePath(QString::fromLatin1(file)));
    }
}

TEST(FileDialogs, ComeBackInsteadOfReplacingAFileThatNobodyNamed) {
    const QTemporaryDir folder;
    ASSERT_EQ(writeFile(folder.filePath(QStringLiteral("jobs 31.12.csv")), "kept"), QString());
    answer(true, QStringLiteral("jobs 31.12"));
    QTimer::singleShot(1'500, qApp, [] {
        QDialog* again = qobject_cast<QFileDialog*>(QApplication::activeModalWidget());
        ASSERT_NE(again, nullptr);
        EXPECT_EQ(again->findChild<QLineEdit*>()->text(), QStringLiteral("jobs 31.12.csv"));
        again->done(0);
    });
    EXPECT_EQ(askWhereToSave(nullptr, QStringLiteral("Where"), folder.filePath(QStringLiteral("a.csv"))),
              QString());
}

TEST(FileDialogs, WriteAFileWholeOrSayWhyNot) {
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("a.bin"));
    EXPECT_EQ(writeFile(path, QByteArray("a\0b", 3)), QString());
    QFile file(path);
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    EXPECT_EQ(file.readAll(), QByteArray("a\0b", 3));
    EXPECT_NE(writeFile(folder.filePath(QStringLiteral("none/a.bin")), "a"), QString());
}

} // namespace
} // namespace milehold::app
